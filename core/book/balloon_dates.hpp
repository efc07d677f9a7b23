/// Whether the balloon is current: inspections by date and by time in service, registration, cylinders.
///
/// Total in the same way as core/book/pilot_dates.hpp: what is missing is not known, and never current.
#pragma once
#include <optional>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/instant.hpp"
#include "core/book/due.hpp"
#include "core/rules/rules.hpp"

namespace pappus::book {

using balloon::Inspection;

/// Good to the end of the calendar month.
/// Source    14 CFR 91.409(a).
[[nodiscard]] Due annual(const rules::Annual& rule, const std::vector<Inspection>& inspections, const Outlook& outlook);

/// By time in service: `at_landing` is what the balloon will have flown when the flight ends.
/// An inspection done late (up to the excess that is allowed to reach it, or beyond) takes the excess off the next
/// interval; one done early starts the next interval where it was done. An annual counts too, where `annual_counts`.
/// The first inspection of the list starts the count. Inspections without hours are left out and said to be: the count
/// then runs from an earlier one, and so ends no later.
/// Not known: no inspection with hours, no `at_landing`, hours that fall from one inspection to the next, or that exceed
/// `at_landing`.
/// Example   inspected at 212.4 h: due at 312.4 h. Flown to 318.0 h and inspected: next due at 412.4 h.
/// Laws      more hours flown are never a better state; `at` never exceeds the last inspection's hours + the interval.
/// Source    14 CFR 91.409(b).
[[nodiscard]] Due hundred_hours(const rules::HundredHours& rule, bool annual_counts,
                                const std::vector<Inspection>& inspections, std::optional<Duration> at_landing,
                                const Outlook& outlook);

/// By date or time in service, whichever ends first, from the last inspection of any kind as it was actually done. Over
/// by no more than the tolerance: soon, with a note, as the balloon's own programme has to allow it and its review
/// certificate may have run out.
/// Source    AMC1 ML.A.302(d).
[[nodiscard]] Due inspection(const rules::Inspection& rule, const std::vector<Inspection>& inspections,
                             std::optional<Duration> at_landing, const Outlook& outlook);

/// Good to the end of the month in which it was issued, so many years later.
/// Source    14 CFR 47.40, as changed by 87 FR 71218.
[[nodiscard]] Due registration(const rules::Registration& rule, std::optional<Date> issued, const Outlook& outlook);

/// Good through the last day of the month that is marked on the cylinder, and never worked out from anything else.
[[nodiscard]] Due cylinder_test(const rules::CylinderTest& rule, std::optional<balloon::Month> marked,
                                const Outlook& outlook);

/// What the balloon file says of inspections: its list, and the date beside the envelope where the list has none of that
/// day (an annual whose time in service is not known).
[[nodiscard]] std::vector<Inspection> inspections_of(const balloon::Balloon& balloon);

/// What a balloon needs under one law: inspections, the one by time in service only for hire, and registration.
/// `planned` is the length of the flight, which the time in service will have grown by.
[[nodiscard]] std::vector<Due> balloon_dates(const rules::Set& set, const balloon::Balloon& balloon, bool for_hire,
                                             Duration planned, const Outlook& outlook);

/// One for each cylinder, in the order of the balloon.
[[nodiscard]] std::vector<Due> cylinder_dates(const rules::CylinderTest& rule, const balloon::Balloon& balloon,
                                              const Outlook& outlook);

}  // namespace pappus::book
