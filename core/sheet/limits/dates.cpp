// The dates of pilot, balloon and cylinders, each as one limit: the worst of its dates is named, the whole list stands on
// the sheet.
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

using book::Due;
using book::DueState;

LimitState state_of(DueState state) {
  switch (state) {
    case DueState::current: return LimitState::inside;
    case DueState::soon: return LimitState::near;
    case DueState::passed: return LimitState::outside;
    case DueState::not_known: return LimitState::not_known;
  }
  return LimitState::not_known;
}

// What is due, as the arguments of a sentence begin: the id of a cylinder, else the title.
std::vector<Argument> what_of(const Due& due) {
  if (due.subject == book::Subject::cylinder) return {{"id", due.of}};
  return {{"what", Term{"book." + due.what + ".title"}}};
}

Sentence about(const Due& due, const std::string& key, std::vector<Argument> more) {
  std::vector<Argument> told = what_of(due);
  for (Argument& argument : more) told.push_back(std::move(argument));
  return say((due.subject == book::Subject::cylinder ? "limit.dates_cylinders." : "limit.dates.") + key,
             std::move(told));
}

// The date itself where there is one that settles it; else the state, with what the book says of it as a note.
void tell_worst(const Facts& facts, const Due& due, Limit& limit) {
  const Date day = facts.morning.flight.time.date();
  if (due.state == DueState::passed && due.until && *due.until < day) {
    limit.finding = about(due, "passed", {{"date", *due.until}});
  } else if (due.state == DueState::soon && due.until && *due.until >= day && !due.at) {
    const auto left = static_cast<double>(due.until->days_since_1970() - day.days_since_1970());
    limit.finding = about(due, "soon", {{"date", *due.until}, {"days", measure::count(left)}});
  } else {
    limit.finding = about(due, "stands", {{"state", Term{"due_state." + std::string(name_of(due.state))}}});
    limit.notes.push_back(due.finding);
  }
  for (const Sentence& note : due.notes) limit.notes.push_back(note);
}

void tell_all_good(const std::vector<const Due*>& dues, Limit& limit) {
  const Due* first = nullptr;
  for (const Due* due : dues)
    if (due->until && (first == nullptr || *due->until < *first->until)) first = due;
  limit.finding =
      first != nullptr ? about(*first, "first_to_end", {{"date", *first->until}}) : say("limit.dates.all_current");
}

Limit dates_of(const Facts& facts, book::Subject subject) {
  Limit limit;
  limit.name = "dates_" + std::string(subject == book::Subject::cylinder ? "cylinders" : name_of(subject));
  // Where no law is named nobody can say what is asked for; the mark on a cylinder counts all the same.
  limit.kind = rules_named(facts) != nullptr ? LimitKind::must : LimitKind::look;
  limit.source = {Authority::law, {}};
  std::vector<const Due*> dues;
  for (const Due& due : facts.dates)
    if (due.subject == subject) dues.push_back(&due);
  if (dues.empty()) {
    const bool cylinders = subject == book::Subject::cylinder;
    limit.finding = say(cylinders ? "fact.no_cylinders" : "limit.dates.no_rules");
    limit.remedy = say("limit." + limit.name + ".look");
    return limit;
  }
  const Due* worst = dues.front();
  for (const Due* due : dues)
    if (book::is_worse(due->state, worst->state)) worst = due;
  limit.state = state_of(worst->state);
  limit.source.name = worst->paragraph;
  limit.remedy = worst->remedy;
  if (worst->state == DueState::current)
    tell_all_good(dues, limit);
  else
    tell_worst(facts, *worst, limit);
  for (const Due* due : dues)
    if (due != worst && due->state != DueState::current)
      limit.notes.push_back(about(*due, "also", {{"state", Term{"due_state." + std::string(name_of(due->state))}}}));
  if (!worst->sure) limit.notes.push_back(say("limit.check_locally", {{"paragraph", worst->paragraph}}));
  return limit;
}

}  // namespace

Limit dates_pilot(const Facts& facts) { return dates_of(facts, book::Subject::pilot); }
Limit dates_balloon(const Facts& facts) { return dates_of(facts, book::Subject::balloon); }
Limit dates_cylinders(const Facts& facts) { return dates_of(facts, book::Subject::cylinder); }

}  // namespace pappus::sheet::limits
