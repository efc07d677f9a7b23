/// The descriptions of the rules: what the reader of the data files, JSON and its schema are made from. Apart from the
/// rules themselves, as whoever only asks for a figure should not pay for them.
///
/// An empty name merges the members of Rule into the rule that holds them.
#pragma once
#include <string_view>

#include "core/base/describe.hpp"
#include "core/rules/rules.hpp"

namespace pappus {

template <>
struct Description<rules::Rule> {
  static constexpr std::string_view name = "Rule";
  static constexpr auto fields = Fields{field("paragraph", &rules::Rule::paragraph, "where the rule stands"),
                                        field("sure", &rules::Rule::sure, "false: check locally"),
                                        field("local_first", &rules::Rule::local_first, "a local rule wins")};
};
template <>
struct Description<rules::VfrMinimum> {
  static constexpr std::string_view name = "VfrMinimum";
  static constexpr auto fields =
      Fields{field("", &rules::VfrMinimum::rule, "whose rule it is"),
             field("airspaces", &rules::VfrMinimum::airspaces, "where it holds"),
             field("light", &rules::VfrMinimum::light, "when it holds"),
             field("up_to", &rules::VfrMinimum::up_to_agl, "holds up to this height, inclusive"),
             field("up_to", &rules::VfrMinimum::up_to_amsl, "holds up to this altitude, inclusive"),
             field("below", &rules::VfrMinimum::below_amsl, "holds below this altitude"),
             field("visibility", &rules::VfrMinimum::visibility, "least visibility"),
             field("visibility_where_allowed", &rules::VfrMinimum::visibility_where_allowed,
                   "least visibility where an authority allows it"),
             field("clear_of_cloud", &rules::VfrMinimum::clear_of_cloud, "out of cloud, at any distance"),
             field("surface_in_sight", &rules::VfrMinimum::surface_in_sight, "with the surface in sight"),
             field("below_cloud", &rules::VfrMinimum::below_cloud, "least distance below cloud"),
             field("above_cloud", &rules::VfrMinimum::above_cloud, "least distance above cloud"),
             field("beside_cloud", &rules::VfrMinimum::beside_cloud, "least level distance from cloud")};
};
template <>
struct Description<rules::MinimumHeight> {
  static constexpr std::string_view name = "MinimumHeight";
  static constexpr auto fields = Fields{field("", &rules::MinimumHeight::rule, "whose rule it is"),
                                        field("ground", &rules::MinimumHeight::ground, "over which ground"),
                                        field("above", &rules::MinimumHeight::above, "above what"),
                                        field("height", &rules::MinimumHeight::height, "least height"),
                                        field("within", &rules::MinimumHeight::within, "which obstacles count")};
};
template <>
struct Description<rules::Oxygen> {
  static constexpr std::string_view name = "Oxygen";
  static constexpr auto fields =
      Fields{field("", &rules::Oxygen::rule, "whose rule it is"),
             field("crew_above", &rules::Oxygen::crew_above, "crew above this, when it lasts"),
             field("crew_after", &rules::Oxygen::crew_after, "how long it may last without"),
             field("crew_always_above", &rules::Oxygen::crew_always_above, "crew above this, all the time"),
             field("everyone_above", &rules::Oxygen::everyone_above, "everyone above this")};
};
template <>
struct Description<rules::FuelReserve> {
  static constexpr std::string_view name = "FuelReserve";
  static constexpr auto fields =
      Fields{field("", &rules::FuelReserve::rule, "whose rule it is"),
             field("reserve", &rules::FuelReserve::reserve, "fuel left at landing"),
             field("single_cylinder", &rules::FuelReserve::single_cylinder, "the same with one cylinder")};
};
template <>
struct Description<rules::Night> {
  static constexpr std::string_view name = "Night";
  static constexpr auto fields =
      Fields{field("", &rules::Night::rule, "whose rule it is"),
             field("sun_below_horizon", &rules::Night::sun_below_horizon, "where night begins")};
};
template <>
struct Description<rules::NightLanding> {
  static constexpr std::string_view name = "NightLanding";
  static constexpr auto fields = Fields{field("", &rules::NightLanding::rule, "whose rule it is"),
                                        field("forbidden", &rules::NightLanding::forbidden, "no landing at night")};
};
template <>
struct Description<rules::FlightReview> {
  static constexpr std::string_view name = "FlightReview";
  static constexpr auto fields = Fields{field("", &rules::FlightReview::rule, "whose rule it is"),
                                        field("calendar_months", &rules::FlightReview::calendar_months, "good for"),
                                        field("flight", &rules::FlightReview::flight, "least flight"),
                                        field("ground", &rules::FlightReview::ground, "least ground instruction")};
};
template <>
struct Description<rules::Passengers> {
  static constexpr std::string_view name = "Passengers";
  static constexpr auto fields = Fields{field("", &rules::Passengers::rule, "whose rule it is"),
                                        field("take_offs", &rules::Passengers::take_offs, "needed"),
                                        field("landings", &rules::Passengers::landings, "needed"),
                                        field("days", &rules::Passengers::days, "within")};
};
template <>
struct Description<rules::NightPassengers> {
  static constexpr std::string_view name = "NightPassengers";
  static constexpr auto fields =
      Fields{field("", &rules::NightPassengers::rule, "whose rule it is"),
             field("take_offs", &rules::NightPassengers::take_offs, "needed"),
             field("landings", &rules::NightPassengers::landings, "needed"),
             field("days", &rules::NightPassengers::days, "within"),
             field("after_sunset", &rules::NightPassengers::after_sunset, "the period begins"),
             field("before_sunrise", &rules::NightPassengers::before_sunrise, "the period ends")};
};
template <>
struct Description<rules::Medical> {
  static constexpr std::string_view name = "Medical";
  static constexpr auto fields = Fields{field("", &rules::Medical::rule, "whose rule it is"),
                                        field("since", &rules::Medical::since, "in force since"),
                                        field("medical_class", &rules::Medical::medical_class, "which class")};
};
template <>
struct Description<rules::Alcohol> {
  static constexpr std::string_view name = "Alcohol";
  static constexpr auto fields =
      Fields{field("", &rules::Alcohol::rule, "whose rule it is"),
             field("since_drink", &rules::Alcohol::since_drink, "least time since a drink"),
             field("blood_percent_below", &rules::Alcohol::blood_percent_below, "in the blood")};
};
template <>
struct Description<rules::Annual> {
  static constexpr std::string_view name = "Annual";
  static constexpr auto fields = Fields{
      field("", &rules::Annual::rule, "whose rule it is"),
      field("calendar_months", &rules::Annual::calendar_months, "good for"),
      field("counts_as_hundred_hours", &rules::Annual::counts_as_hundred_hours, "does for the other inspection too")};
};
template <>
struct Description<rules::HundredHours> {
  static constexpr std::string_view name = "HundredHours";
  static constexpr auto fields = Fields{field("", &rules::HundredHours::rule, "whose rule it is"),
                                        field("every", &rules::HundredHours::every, "time in service between two"),
                                        field("excess", &rules::HundredHours::excess, "over, to reach the inspection")};
};
template <>
struct Description<rules::Registration> {
  static constexpr std::string_view name = "Registration";
  static constexpr auto fields = Fields{field("", &rules::Registration::rule, "whose rule it is"),
                                        field("years", &rules::Registration::years, "good for")};
};
template <>
struct Description<rules::Records> {
  static constexpr std::string_view name = "Records";
  static constexpr auto fields =
      Fields{field("", &rules::Records::rule, "whose rule it is"), field("years", &rules::Records::years, "kept for")};
};
template <>
struct Description<rules::CylinderTest> {
  static constexpr std::string_view name = "CylinderTest";
  static constexpr auto fields = Fields{field("", &rules::CylinderTest::rule, "whose rule it is")};
};
template <>
struct Description<rules::Recency> {
  static constexpr std::string_view name = "Recency";
  static constexpr auto fields =
      Fields{field("", &rules::Recency::rule, "whose rule it is"),
             field("months", &rules::Recency::months, "within"),
             field("in_command", &rules::Recency::in_command, "time in command"),
             field("take_offs", &rules::Recency::take_offs, "needed"),
             field("landings", &rules::Recency::landings, "needed"),
             field("training_months", &rules::Recency::training_months, "a training flight within"),
             field("check_months", &rules::Recency::check_months, "or a check within")};
};
template <>
struct Description<rules::OtherClass> {
  static constexpr std::string_view name = "OtherClass";
  static constexpr auto fields = Fields{field("", &rules::OtherClass::rule, "whose rule it is"),
                                        field("months", &rules::OtherClass::months, "within"),
                                        field("in_command", &rules::OtherClass::in_command, "time in command")};
};
template <>
struct Description<rules::Commercial> {
  static constexpr std::string_view name = "Commercial";
  static constexpr auto fields =
      Fields{field("", &rules::Commercial::rule, "whose rule it is"),
             field("days", &rules::Commercial::days, "within"),
             field("flights", &rules::Commercial::flights, "in command"),
             field("flights_in_class", &rules::Commercial::flights_in_class, "of them in the class"),
             field("supervised", &rules::Commercial::supervised, "or so many supervised"),
             field("check_months", &rules::Commercial::check_months, "a check or refresher within")};
};
template <>
struct Description<rules::Groups> {
  static constexpr std::string_view name = "Groups";
  static constexpr auto fields = Fields{field("", &rules::Groups::rule, "whose rule it is"),
                                        field("a_up_to", &rules::Groups::a_up_to, "group A up to"),
                                        field("b_up_to", &rules::Groups::b_up_to, "group B up to"),
                                        field("c_up_to", &rules::Groups::c_up_to, "group C up to")};
};
template <>
struct Description<rules::Inspection> {
  static constexpr std::string_view name = "Inspection";
  static constexpr auto fields = Fields{field("", &rules::Inspection::rule, "whose rule it is"),
                                        field("months", &rules::Inspection::months, "between two"),
                                        field("every", &rules::Inspection::every, "time in service between two"),
                                        field("tolerance_months", &rules::Inspection::tolerance_months, "over"),
                                        field("tolerance", &rules::Inspection::tolerance, "over")};
};
template <>
struct Description<rules::MassAdditions> {
  static constexpr std::string_view name = "MassAdditions";
  static constexpr auto fields = Fields{field("", &rules::MassAdditions::rule, "whose rule it is"),
                                        field("clothing", &rules::MassAdditions::clothing, "added"),
                                        field("hand_baggage", &rules::MassAdditions::hand_baggage, "added")};
};
template <>
struct Description<rules::ExtraCrew> {
  static constexpr std::string_view name = "ExtraCrew";
  static constexpr auto fields =
      Fields{field("", &rules::ExtraCrew::rule, "whose rule it is"),
             field("passengers_more_than", &rules::ExtraCrew::passengers_more_than, "from one more on")};
};
template <>
struct Description<rules::DropLine> {
  static constexpr std::string_view name = "DropLine";
  static constexpr auto fields = Fields{field("", &rules::DropLine::rule, "whose rule it is"),
                                        field("at_least", &rules::DropLine::at_least, "length")};
};
template <>
struct Description<rules::FireBlanket> {
  static constexpr std::string_view name = "FireBlanket";
  static constexpr auto fields = Fields{field("", &rules::FireBlanket::rule, "whose rule it is"),
                                        field("width", &rules::FireBlanket::width, "least"),
                                        field("length", &rules::FireBlanket::length, "least")};
};
template <>
struct Description<rules::Locator> {
  static constexpr std::string_view name = "Locator";
  static constexpr auto fields =
      Fields{field("", &rules::Locator::rule, "whose rule it is"),
             field("persons_more_than", &rules::Locator::persons_more_than, "from one more on")};
};
template <>
struct Description<rules::Set> {
  static constexpr std::string_view name = "RuleSet";
  static constexpr auto fields =
      Fields{field("vfr", &rules::Set::vfr, "visibility and cloud"),
             field("height", &rules::Set::height, "least heights"),
             field("oxygen", &rules::Set::oxygen, "oxygen"),
             field("fuel_reserve", &rules::Set::fuel_reserve, "fuel left at landing"),
             field("night", &rules::Set::night, "when night is"),
             field("night_landing", &rules::Set::night_landing, "landing at night"),
             field("flight_review", &rules::Set::flight_review, "flight review"),
             field("passengers", &rules::Set::passengers, "recent landings to carry passengers"),
             field("night_passengers", &rules::Set::night_passengers, "the same at night"),
             field("medical", &rules::Set::medical, "medical certificate for hire"),
             field("alcohol", &rules::Set::alcohol, "alcohol"),
             field("annual", &rules::Set::annual, "annual inspection"),
             field("hundred_hours", &rules::Set::hundred_hours, "inspection by time in service"),
             field("registration", &rules::Set::registration, "registration"),
             field("records", &rules::Set::records, "how long records of work are kept"),
             field("cylinder_test", &rules::Set::cylinder_test, "test of cylinders"),
             field("recency", &rules::Set::recency, "recent experience"),
             field("other_class", &rules::Set::other_class, "recent experience in another class"),
             field("commercial", &rules::Set::commercial, "recent experience to fly for hire"),
             field("groups", &rules::Set::groups, "groups by volume"),
             field("inspection", &rules::Set::inspection, "inspection by date and time in service"),
             field("mass_additions", &rules::Set::mass_additions, "added to a stated mass"),
             field("extra_crew", &rules::Set::extra_crew, "a second crew member"),
             field("drop_line", &rules::Set::drop_line, "drop line"),
             field("fire_blanket", &rules::Set::fire_blanket, "fire blanket"),
             field("locator", &rules::Set::locator, "locator over water")};
};
}  // namespace pappus
