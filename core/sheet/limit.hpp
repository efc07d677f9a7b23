/// A limit: a quantity against a bound, and everything a pilot needs to judge it.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/measure.hpp"
#include "core/base/sentence.hpp"

namespace pappus::sheet {

enum class LimitState { inside, near, outside, not_known };
enum class LimitKind {
  must,  // must be known: not known counts as outside
  look,  // look yourself: not known asks the pilot to look
};
enum class Side { at_most, at_least };
enum class Authority { law, flight_manual, handbook, own_minimum, common_practice, ours, pilot };
enum class Standing { nothing_against, with_care, against, not_known };

struct Bound {
  Measure value;
  Side side = Side::at_most;
};

/// Whose bound it is.
struct BoundSource {
  Authority kind = Authority::ours;
  std::string name;  // "14 CFR 91.155", "flight manual", "own minimum"
};

/// What the pilot in command accepted, and why.
struct Acceptance {
  std::string reason;
  Moment time;
};

struct Limit {
  std::string name;  // stable key: "surface_wind"
  LimitState state = LimitState::not_known;
  LimitKind kind = LimitKind::must;
  std::optional<Measure> value;
  std::optional<Bound> near_bound;  // where 'near' begins
  std::optional<Bound> bound;       // where 'outside' begins
  BoundSource source;
  std::optional<Duration> age;     // of the oldest thing the value rests on
  Sentence finding;                // what was found, in one sentence
  std::optional<Sentence> remedy;  // what would settle or cure it
  std::optional<Acceptance> accepted;
  std::vector<Sentence> notes;  // what the reader should know of how the value came about
};

/// A bound set by law or by the flight manual can't be waved through; the rest may be accepted by the pilot in command.
[[nodiscard]] bool may_be_accepted(const Limit& limit);

/// In this order: a 'must' outside and not acceptable or not accepted: against; a 'must' not known: not_known; anything
/// near, accepted, or still to be looked at: with_care; else nothing_against. A 'look' limit outside counts like a
/// must.
/// Laws      never nothing_against or with_care while a must limit is not known, or outside without acceptance.
[[nodiscard]] Standing standing_of(const std::vector<Limit>& limits);

/// Where `value` stands against the two bounds. Not finite: not_known.
[[nodiscard]] LimitState state_against(double value_si, const std::optional<Bound>& near_bound, const Bound& bound);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Names<sheet::LimitState> {
  static constexpr std::array<std::pair<sheet::LimitState, std::string_view>, 4> all{
      {{sheet::LimitState::inside, "inside"},
       {sheet::LimitState::near, "near"},
       {sheet::LimitState::outside, "outside"},
       {sheet::LimitState::not_known, "not_known"}}};
};
template <>
struct Names<sheet::LimitKind> {
  static constexpr std::array<std::pair<sheet::LimitKind, std::string_view>, 2> all{
      {{sheet::LimitKind::must, "must"}, {sheet::LimitKind::look, "look"}}};
};
template <>
struct Names<sheet::Side> {
  static constexpr std::array<std::pair<sheet::Side, std::string_view>, 2> all{
      {{sheet::Side::at_most, "at_most"}, {sheet::Side::at_least, "at_least"}}};
};
template <>
struct Names<sheet::Authority> {
  static constexpr std::array<std::pair<sheet::Authority, std::string_view>, 7> all{
      {{sheet::Authority::law, "law"},
       {sheet::Authority::flight_manual, "flight_manual"},
       {sheet::Authority::handbook, "handbook"},
       {sheet::Authority::own_minimum, "own_minimum"},
       {sheet::Authority::common_practice, "common_practice"},
       {sheet::Authority::ours, "ours"},
       {sheet::Authority::pilot, "pilot"}}};
};
template <>
struct Names<sheet::Standing> {
  static constexpr std::array<std::pair<sheet::Standing, std::string_view>, 4> all{
      {{sheet::Standing::nothing_against, "nothing_against"},
       {sheet::Standing::with_care, "with_care"},
       {sheet::Standing::against, "against"},
       {sheet::Standing::not_known, "not_known"}}};
};

template <>
struct Description<sheet::Bound> {
  static constexpr std::string_view name = "Bound";
  static constexpr auto fields =
      Fields{field("", &sheet::Bound::value, "the bound itself"),
             field("side", &sheet::Bound::side, "on which side of the bound the value has to be")};
};
template <>
struct Description<sheet::BoundSource> {
  static constexpr std::string_view name = "BoundSource";
  static constexpr auto fields = Fields{field("kind", &sheet::BoundSource::kind, "what sort of authority"),
                                        field("name", &sheet::BoundSource::name, "which rule, book or person")};
};
template <>
struct Description<sheet::Acceptance> {
  static constexpr std::string_view name = "Acceptance";
  static constexpr auto fields = Fields{field("reason", &sheet::Acceptance::reason, "why the pilot accepted it"),
                                        field("time", &sheet::Acceptance::time, "when")};
};
template <>
struct Description<sheet::Limit> {
  static constexpr std::string_view name = "Limit";
  static constexpr auto fields =
      Fields{field("name", &sheet::Limit::name, "which limit"),
             field("state", &sheet::Limit::state, "where the value stands against the bound"),
             field("kind", &sheet::Limit::kind, "must be known, or look yourself"),
             field("value", &sheet::Limit::value, "the value, in SI"),
             field("near", &sheet::Limit::near_bound, "the bound at which 'near' begins"),
             field("bound", &sheet::Limit::bound, "the bound at which 'outside' begins"),
             field("source", &sheet::Limit::source, "whose bound it is"),
             field("age", &sheet::Limit::age, "age of the oldest thing the value rests on"),
             field("finding", &sheet::Limit::finding, "what was found, in words"),
             field("remedy", &sheet::Limit::remedy, "what would settle or cure it"),
             field("accepted", &sheet::Limit::accepted, "what the pilot in command accepted"),
             field("notes", &sheet::Limit::notes, "how the value came about")};
};
}  // namespace pappus
