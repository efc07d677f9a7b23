/// Values of options that more than one verb reads.
#pragma once
#include <string>
#include <string_view>
#include <utility>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"

namespace pappus::cli {

inline Result<Moment> moment(std::string_view text) {
  if (const auto m = parse_moment(text)) return *m;
  return fail(Errc::bad_input, say("issue.time_unreadable"), std::string(text), "2027-05-16T05:10:00-09:00");
}

inline Result<std::string> as_written(std::string_view text) { return std::string(text); }

template <class E>
Result<E> one_of_names(std::string_view text) {
  if (const auto value = named<E>(text)) return *value;
  std::string wanted;
  for (const auto& known : Names<E>::all) wanted += (wanted.empty() ? "" : ", ") + std::string(known.second);
  return fail(Errc::bad_call, say("issue.not_one_of"), std::string(text), std::move(wanted));
}

}  // namespace pappus::cli
