#include "core/book/due.hpp"

namespace pappus::book {
namespace {

// Hours are kept in tenths; a tenth of a second is far below that and far above the rounding of a sum of them.
constexpr Duration kHairsbreadth = 0.1 * second;

Sentence found(DueState state, Date until, const Outlook& outlook) {
  if (state == DueState::passed) return say("book.ran_out", {{"date", until}});
  if (state == DueState::current) return say("book.good_through", {{"date", until}});
  const auto days = static_cast<double>(until.days_since_1970() - outlook.on.days_since_1970());
  return say("book.ends_soon", {{"date", until}, {"days", measure::count(days)}});
}

}  // namespace

bool is_worse(DueState a, DueState b) {
  const auto rank = [](DueState s) {
    switch (s) {
      case DueState::current: return 0;
      case DueState::soon: return 1;
      case DueState::not_known: return 2;
      case DueState::passed: return 3;
    }
    return 3;
  };
  return rank(a) > rank(b);
}

DueState state_on(const Outlook& outlook, Date until) {
  const std::int64_t left = until.days_since_1970() - outlook.on.days_since_1970();
  if (left < 0) return DueState::passed;
  return left <= outlook.soon_days ? DueState::soon : DueState::current;
}

DueState state_at(const Outlook& outlook, Duration hours, Duration at) {
  const Duration left = at - hours;
  if (left < -kHairsbreadth) return DueState::passed;
  return left <= outlook.soon_hours ? DueState::soon : DueState::current;
}

Due due_by_date(std::string what, const rules::Rule& rule, Date until, const Outlook& outlook, Sentence renew) {
  Due due;
  due.what = std::move(what);
  due.until = until;
  due.state = state_on(outlook, until);
  due.paragraph = rule.paragraph;
  due.sure = rule.sure;
  due.finding = found(due.state, until, outlook);
  if (due.state != DueState::current) due.remedy = std::move(renew);
  return due;
}

Due due_not_known(std::string what, const rules::Rule& rule, Sentence why, Sentence ask) {
  Due due;
  due.what = std::move(what);
  due.state = DueState::not_known;
  due.paragraph = rule.paragraph;
  due.sure = rule.sure;
  due.finding = std::move(why);
  due.remedy = std::move(ask);
  return due;
}

}  // namespace pappus::book
