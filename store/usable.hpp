/// What may stand in an event and of a person, before anything is written.
#pragma once
#include "core/base/issue.hpp"
#include "desk/store.hpp"

namespace pappus::store {

/// The domain of desk::NewEvent, but for the JSON of the body: that is for SQLite to say.
/// Errors    Errc::bad_input "issue.event_unusable", argument `field`, with what was found and what would be right.
[[nodiscard]] Result<void> check_usable(const desk::NewEvent& event);
/// Errors    Errc::bad_input "issue.person_unusable", as above.
[[nodiscard]] Result<void> check_usable(const desk::Person& person);

/// The refusal of a body that is no JSON object.
[[nodiscard]] tl::unexpected<Issue> refuse_body(const std::string& body);

}  // namespace pappus::store
