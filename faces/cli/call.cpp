#include "faces/cli/call.hpp"

#include <algorithm>

namespace pappus::cli {
namespace {

Result<Moment> read_now(std::string_view text) {
  if (const auto m = parse_moment(text)) return *m;
  return fail(Errc::bad_input, say("issue.time_unreadable"), std::string(text), "2027-05-16T04:50:00-09:00");
}

Result<words::Units> read_units(std::string_view text) {
  if (text == "us") return words::Units::us;
  if (text == "metric") return words::Units::metric;
  return fail(Errc::bad_call, say("issue.not_one_of"), std::string(text), "us, metric");
}

Result<words::Language> read_language(std::string_view text) {
  if (const auto language = named<words::Language>(text)) return *language;
  return fail(Errc::bad_call, say("issue.not_one_of"), std::string(text), "en, es");
}

}  // namespace

void Call::refuse(std::vector<Issue> issues) {
  for (Issue& issue : issues) refuse(std::move(issue));
}

void Call::refuse_missing(std::string_view option) {
  Issue issue;
  issue.code = Errc::bad_call;
  issue.sentence = say("issue.option_missing", {{"verb", std::string(verb_.name)}});
  issue.where.key = option;
  for (const OptionSpec& spec : verb_.options)
    if (spec.name == option) issue.wanted = std::string(option) + " " + std::string(spec.placeholder);
  refuse(std::move(issue));
}

void Call::read_common() {
  json_ = given("--json");
  if (const auto units = value("--units", read_units)) reader_.units = *units;
  if (const auto language = value("--language", read_language)) reader_.language = *language;
  now_ = value("--now", read_now);
  if (now_) reader_.offset = now_->offset;
}

int Call::tell_issues() {
  int status = 0;
  for (const Issue& issue : issues_) status = std::max(status, exit_status(issue.code));
  // A wrong call is the first thing to mend, whatever else was found.
  for (const Issue& issue : issues_)
    if (issue.code == Errc::bad_call) status = exit_status(Errc::bad_call);
  if (json_) {
    print(json::to_json(desk::Refusal{issues_}, reader_) + "\n");
  } else {
    for (const Issue& issue : issues_) std::fprintf(around_.err, "pappus: %s\n", words::worded(issue, reader_).c_str());
  }
  return status;
}

void Call::warn(const std::vector<Issue>& issues) {
  for (const Issue& issue : issues) std::fprintf(around_.err, "pappus: %s\n", words::worded(issue, reader_).c_str());
}

}  // namespace pappus::cli
