/// Files and a clock for tests of the desk: texts by path, and one moment that stays.
#pragma once
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "desk/ports.hpp"

namespace pappus::testing {

class Shelf : public desk::Files {
 public:
  Shelf() = default;
  explicit Shelf(std::map<std::string, std::string> files) : texts{std::move(files)} {}
  std::map<std::string, std::string> texts;

  [[nodiscard]] Result<std::string> read(const std::string& path) const override {
    if (const auto found = texts.find(path); found != texts.end()) return found->second;
    return fail(Errc::not_found, say("issue.file_missing"), path);
  }
  [[nodiscard]] std::string beside(const std::string& file, const std::string& relative) const override {
    return file.substr(0, file.rfind('/') + 1) + relative;
  }
  [[nodiscard]] Result<void> write(const std::string& path, std::string_view /*text*/,
                                   std::string_view /*ours*/) const override {
    return fail(Errc::machine_failed, say("issue.file_unwritable"), path);
  }
};

class Still : public desk::Clock {
 public:
  [[nodiscard]] Instant now() const override { return parse_moment("2027-05-16T04:50:00-09:00")->at; }
};

}  // namespace pappus::testing
