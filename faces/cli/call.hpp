/// One call of the program: what was asked, and where the answer goes.
#pragma once
#include <cstdio>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/issue.hpp"
#include "desk/answers.hpp"
#include "desk/ports.hpp"
#include "desk/store.hpp"
#include "faces/cli/terminal.hpp"
#include "faces/cli/verbs.hpp"
#include "formats/text/json/json_out.hpp"
#include "words/words.hpp"

namespace pappus::cli {

/// What a call reads from and writes to.
struct Surroundings {
  const desk::Files& files;
  const desk::Clock& clock;
  std::FILE* out;
  std::FILE* err;
  bool colour = false;
  std::FILE* in = stdin;                 // answers to questions
  const desk::Stores* stores = nullptr;  // none: books are refused
};

class Call {
 public:
  Call(const VerbSpec& verb, Surroundings around) : verb_{verb}, around_{around} {}

  // --- what was asked ---
  [[nodiscard]] bool given(std::string_view option) const { return options_.count(std::string(option)) != 0; }
  [[nodiscard]] const std::vector<std::string>& positionals() const { return positionals_; }
  /// The value of an option read by `parse` (from a text to a Result). A fault is kept as an issue under the option's
  /// name, and the value is empty.
  template <class Parse>
  auto value(std::string_view option, Parse parse)
      -> std::optional<typename decltype(parse(std::string_view{}))::value_type> {
    const auto found = options_.find(std::string(option));
    if (found == options_.end()) return std::nullopt;
    return read_one(option, found->second.front(), parse);
  }
  /// Every value of a repeatable option, in the order given; those that are at fault are left out and kept as issues.
  template <class Parse>
  auto values(std::string_view option, Parse parse)
      -> std::vector<typename decltype(parse(std::string_view{}))::value_type> {
    std::vector<typename decltype(parse(std::string_view{}))::value_type> out;
    const auto found = options_.find(std::string(option));
    if (found == options_.end()) return out;
    for (const std::string& text : found->second)
      if (auto read = read_one(option, text, parse)) out.push_back(*std::move(read));
    return out;
  }
  /// As above; when the option is absent, that is the issue.
  template <class Parse>
  auto needed(std::string_view option, Parse parse) {
    if (!given(option)) refuse_missing(option);
    return value(option, parse);
  }
  void refuse(Issue issue) { issues_.push_back(std::move(issue)); }
  void refuse(std::vector<Issue> issues);
  void refuse_missing(std::string_view option);
  [[nodiscard]] bool refused() const { return !issues_.empty(); }

  [[nodiscard]] const words::Reader& reader() const { return reader_; }
  words::Reader& reader() { return reader_; }
  [[nodiscard]] bool json() const { return json_; }
  [[nodiscard]] std::optional<Moment> now() const { return now_; }
  [[nodiscard]] const desk::Files& files() const { return around_.files; }
  [[nodiscard]] const desk::Clock& clock() const { return around_.clock; }
  [[nodiscard]] const desk::Stores* stores() const { return around_.stores; }
  /// What --now says, else the clock, in UTC.
  [[nodiscard]] Moment present() const { return now_ ? *now_ : Moment{around_.clock.now(), UtcOffset{}}; }
  [[nodiscard]] std::FILE* in() const { return around_.in; }
  [[nodiscard]] std::FILE* err() const { return around_.err; }

  // --- the answer ---
  void print(const std::string& text) { std::fwrite(text.data(), 1, text.size(), around_.out); }
  /// Prints `answer` as JSON, or lets `show` print it for a person. Returns exit status 0.
  template <class T, class Show>
  int tell(const T& answer, Show show) {
    if (json_) {
      print(json::to_json(answer, reader_) + "\n");
    } else {
      Terminal terminal{around_.colour};
      show(terminal, answer, reader_);
      print(terminal.text());
    }
    return 0;
  }
  /// Tells every issue and returns the exit status of the gravest.
  int tell_issues();
  int fail_with(Issue issue) {
    refuse(std::move(issue));
    return tell_issues();
  }
  /// Tells on the error stream, and the answer stands.
  void warn(const std::vector<Issue>& issues);

  // --- made by the parser ---
  void set_option(std::string name, std::vector<std::string> values) { options_[std::move(name)] = std::move(values); }
  void set_positionals(std::vector<std::string> p) { positionals_ = std::move(p); }
  /// Reads the options that every verb takes.
  void read_common();

 private:
  template <class Parse>
  auto read_one(std::string_view option, const std::string& text, Parse parse)
      -> std::optional<typename decltype(parse(std::string_view{}))::value_type> {
    auto read = parse(std::string_view{text});
    if (read) return *std::move(read);
    Issue issue = read.error();
    issue.where.key = option;
    if (issue.got.empty()) issue.got = text;
    refuse(std::move(issue));
    return std::nullopt;
  }

  const VerbSpec& verb_;
  Surroundings around_;
  std::map<std::string, std::vector<std::string>> options_;  // each with one value or more
  std::vector<std::string> positionals_;
  std::vector<Issue> issues_;
  words::Reader reader_;
  bool json_ = false;
  std::optional<Moment> now_;
};

/// Runs the program for its arguments (without the program's own name). Returns the exit status.
int run(const std::vector<std::string>& arguments, Surroundings around);

}  // namespace pappus::cli
