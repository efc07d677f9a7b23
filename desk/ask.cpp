#include "desk/ask.hpp"

#include "desk/typed.hpp"

namespace pappus::desk {

int Round::first_asked(int from) const {
  while (from < steps() && !is_asked(from)) ++from;
  return from;
}

std::optional<Prompt> Round::next() const {
  const int step = first_asked(step_);
  if (step >= steps()) return std::nullopt;
  Prompt out = prompt(step);
  out.number = static_cast<int>(answered_.size()) + 1;
  return out;
}

Heard Round::answer(std::string_view typed) {
  const int step = first_asked(step_);
  const std::string_view said = trimmed(typed);
  if (said == kGoBack) {
    if (answered_.empty()) return {false, {Issue{Errc::bad_input, say("issue.ask_first"), {}, {}, {}}}};
    restore();
    step_ = answered_.back();
    answered_.pop_back();
    return {true};
  }
  const Prompt open = prompt(step);
  if (said.empty() && !open.remembered && !open.may_stay_blank)
    return {false, {Issue{Errc::bad_input, say("issue.ask_needed"), {}, {}, example(step)}}};
  keep();
  Heard heard = said.empty() && !open.several_lines ? Heard{true} : read(step, typed);
  if (!heard.taken) {
    forget();
    return heard;
  }
  answered_.push_back(step);
  step_ = step + 1;
  return heard;
}

}  // namespace pappus::desk
