#include "faces/cli/book.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include "core/base/nearest.hpp"
#include "desk/book_answer.hpp"
#include "desk/learned_answer.hpp"
#include "faces/cli/call.hpp"
#include "faces/cli/read_value.hpp"
#include "faces/cli/show.hpp"
#include "formats/text/pilot/flight_file.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::cli {
namespace {

constexpr auto kShow = [](Terminal& to, const auto& answer, const words::Reader& reader) { show(to, answer, reader); };

Result<std::int64_t> event_number(std::string_view text) {
  const auto n = text::parse_number(text);
  if (n && *n >= 1.0 && *n <= 1e15)
    if (const auto whole = static_cast<std::int64_t>(*n); static_cast<double>(whole) == *n) return whole;
  return fail(Errc::bad_call, say("issue.not_one_of"), std::string(text), "the number of an event, such as 12");
}

// The book, the balloon and the present.
desk::BookAsked asked(Call& call) {
  desk::BookAsked out;
  if (call.positionals().size() == 2)
    out.balloon_file = call.positionals()[1];
  else
    call.refuse_missing("BALLOON");
  out.book = call.value("--book", as_written);
  out.now = call.now();
  call.reader().today = call.present().date();
  return out;
}

// An answer with issues beside it: they are warnings, or what stopped it halfway.
template <class Answer>
int tell_parsed(Call& call, Parsed<Answer> answer, bool halfway_is_fault) {
  if (!answer.value) {
    call.refuse(std::move(answer.issues));
    return call.tell_issues();
  }
  call.warn(answer.issues);
  const int status = call.tell(*answer.value, kShow);
  if (!halfway_is_fault) return status;
  const auto fault = std::find_if(answer.issues.begin(), answer.issues.end(),
                                  [](const Issue& issue) { return !text::is_warning(issue); });
  return fault == answer.issues.end() ? status : exit_status(fault->code);
}
template <class Answer>
int tell_result(Call& call, const Result<Answer>& answer) {
  if (!answer) return call.fail_with(answer.error());
  return call.tell(*answer, kShow);
}

std::vector<std::string> cylinders(Call& call) { return call.values("--cylinder", as_written); }

int write(Call& call, decltype(desk::BookEntry::said) said) {
  desk::BookEntry entry{.asked = asked(call), .at = {}, .by = "pilot", .corrects = {}, .said = std::move(said)};
  entry.at = call.value("--at", moment);
  if (const auto by = call.value("--by", as_written)) entry.by = *by;
  entry.corrects = call.value("--correct", event_number);
  if (call.refused()) return call.tell_issues();
  return tell_parsed(call, desk::answer(entry, call.files(), call.clock(), call.stores()), true);
}

int run_fill(Call& call) {
  desk::SaidFill said{.cylinders = cylinders(call), .liquid = {}, .weighed = call.value("--weighed", text::parse_mass)};
  if (const auto at = call.value("--filled-at", text::parse_temperature)) said.liquid = book::LiquidBand{*at, *at};
  if (const auto between = call.values("--filled-between", text::parse_temperature); between.size() == 2) {
    if (said.liquid)
      call.refuse(
          Issue{Errc::bad_call, say("issue.filled_twice"), {}, "--filled-at and --filled-between", "one of them"});
    said.liquid = book::LiquidBand{std::min(between[0], between[1]), std::max(between[0], between[1])};
  }
  return write(call, std::move(said));
}

// "38kg" by the scale, or "9gal" that a refill took.
Result<std::variant<Mass, Volume>> fuel(std::string_view text) {
  using Fuel = std::variant<Mass, Volume>;
  if (const auto volume = text::parse_volume(text)) return Fuel{*volume};
  return text::parse_mass(text).map([](Mass mass) { return Fuel{mass}; }).map_error([](Issue issue) {
    issue.wanted += ", or a volume such as 9gal";
    return issue;
  });
}
Result<TemperatureDelta> degrees(std::string_view text) {
  return text::parse_si(text, text::Dimension::temperature_delta).map([](double k) { return k * kelvin; });
}

int run_flight(Call& call) {
  return write(call, desk::SaidFlight{.aloft = call.needed("--aloft", text::parse_duration).value_or(Duration{}),
                                      .cylinders = cylinders(call),
                                      .drawn = call.value("--drawn", text::parse_volume),
                                      .temperature = call.value("--temperature", text::parse_temperature),
                                      .burnt = call.value("--burnt", fuel),
                                      .as = call.value("--as", as_written),
                                      .crown = call.value("--crown", text::parse_temperature),
                                      .crown_error = call.value("--crown-error", degrees)});
}

int run_weighing(Call& call) {
  return write(call, desk::SaidWeighing{.cylinders = cylinders(call),
                                        .weighed = call.needed("--weighed", text::parse_mass).value_or(Mass{})});
}

int run_level_test(Call& call) {
  return write(call, desk::SaidLevelTest{
                         .cylinders = cylinders(call),
                         .valve = call.needed("--valve", one_of_names<propane::Valve>).value_or(propane::Valve::vapour),
                         .temperature = call.needed("--temperature", text::parse_temperature).value_or(Temperature{}),
                         .other_attitude = call.given("--other-attitude")});
}

int run_show(Call& call) {
  const desk::BookShow question{.asked = asked(call),
                                .temperature = call.value("--temperature", text::parse_temperature)};
  if (call.refused()) return call.tell_issues();
  return tell_parsed(call, desk::answer(question, call.files(), call.clock(), call.stores()), false);
}

int run_learned(Call& call) {
  const desk::BookLearned question{.asked = asked(call)};
  if (call.refused()) return call.tell_issues();
  return tell_parsed(call, desk::answer(question, call.files(), call.clock(), call.stores()), false);
}

int run_verify(Call& call) {
  const desk::BookAsked which = asked(call);
  if (call.refused()) return call.tell_issues();
  const auto answer = desk::verify_book(which, call.stores());
  const int status = tell_result(call, answer);
  return answer && !answer->whole ? exit_status(Errc::conflict) : status;
}

int run_backup(Call& call) {
  const desk::BookAsked which = asked(call);
  const auto to = call.needed("--to", as_written);
  if (call.refused()) return call.tell_issues();
  return tell_result(call, desk::back_up_book(which, to.value_or(std::string{}), call.stores()));
}

int tell_people(Call& call, const desk::BookPeople& question) {
  if (call.refused()) return call.tell_issues();
  return tell_result(call, desk::answer(question, call.stores()));
}
int run_people(Call& call) { return tell_people(call, {.asked = asked(call), .remember = {}, .forget = {}}); }
int run_person(Call& call) {
  desk::BookPeople question{.asked = asked(call), .remember = {}, .forget = {}};
  question.remember = desk::Person{.id = call.needed("--id", as_written).value_or(std::string{}),
                                   .name = call.needed("--name", as_written).value_or(std::string{}),
                                   .contact = call.value("--contact", as_written).value_or(std::string{})};
  return tell_people(call, question);
}
int run_forget(Call& call) {
  return tell_people(call, {.asked = asked(call), .remember = {}, .forget = call.needed("--id", as_written)});
}

struct Action {
  std::string_view name;
  std::vector<std::string_view> options;  // beside --book
  int (*run)(Call&);
};

const std::vector<Action>& actions() {
  static const std::vector<Action> all{
      {"fill", {"--cylinder", "--filled-at", "--filled-between", "--weighed", "--at", "--by", "--correct"}, run_fill},
      {"flight",
       {"--cylinder", "--aloft", "--drawn", "--temperature", "--burnt", "--as", "--crown", "--crown-error", "--at",
        "--by", "--correct"},
       run_flight},
      {"weighing", {"--cylinder", "--weighed", "--at", "--by", "--correct"}, run_weighing},
      {"level-test",
       {"--cylinder", "--valve", "--temperature", "--other-attitude", "--at", "--by", "--correct"},
       run_level_test},
      {"show", {"--temperature"}, run_show},
      {"learned", {}, run_learned},
      {"verify", {}, run_verify},
      {"backup", {"--to"}, run_backup},
      {"people", {}, run_people},
      {"person", {"--id", "--name", "--contact"}, run_person},
      {"forget", {"--id"}, run_forget},
  };
  return all;
}

}  // namespace

std::vector<OptionSpec> book_options() {
  return {{"--book", "lantern.book"},
          {"--cylinder", "1", false, true},
          {"--filled-at", "12C"},
          {"--filled-between", "5C 15C", false, false, 2},
          {"--weighed", "46kg", false, false, 1, "book_weighed"},
          {"--aloft", "52min"},
          {"--drawn", "3gal", false, false, 1, "book_drawn"},
          {"--temperature", "8C", false, false, 1, "book_temperature"},
          {"--burnt", "38kg", false, false, 1, "book_burnt"},
          {"--as", "FLIGHT.toml", false, false, 1, "book_as"},
          {"--crown", "96C", false, false, 1, "book_crown"},
          {"--crown-error", "3K", false, false, 1, "book_crown_error"},
          {"--valve", "vapour", false, false, 1, "book_valve"},
          {"--other-attitude", "", false, false, 1, "book_other_attitude"},
          {"--at", "2027-05-15T18:10:00-09:00", false, false, 1, "book_at"},
          {"--by", "pilot", false, false, 1, "book_by"},
          {"--correct", "12"},
          {"--to", "copy.book"},
          {"--id", "ID"},
          {"--name", "NAME"},
          {"--contact", "CONTACT"}};
}

int run_book(Call& call) {
  std::vector<std::string_view> names;
  for (const Action& action : actions()) names.push_back(action.name);
  std::string all;
  for (const std::string_view name : names) (all += all.empty() ? "" : ", ") += name;
  const std::string wanted = call.positionals().empty() ? std::string{} : call.positionals().front();
  const auto found =
      std::find_if(actions().begin(), actions().end(), [&](const Action& action) { return action.name == wanted; });
  if (found == actions().end()) {
    const std::string_view near = nearest(wanted, names);
    call.refuse(Issue{Errc::bad_call, say("issue.book_action"), {}, wanted, near.empty() ? all : std::string(near)});
    return call.tell_issues();
  }
  for (const OptionSpec& option : book_options()) {
    const auto& takes = found->options;
    if (!call.given(option.name) || option.name == "--book" ||
        std::find(takes.begin(), takes.end(), option.name) != takes.end())
      continue;
    Issue issue{
        Errc::bad_call, say("issue.option_unknown", {{"verb", "book " + wanted}}), {}, std::string(option.name), {}};
    for (const std::string_view known : takes) (issue.wanted += issue.wanted.empty() ? "" : ", ") += known;
    call.refuse(std::move(issue));
  }
  return found->run(call);
}

}  // namespace pappus::cli
