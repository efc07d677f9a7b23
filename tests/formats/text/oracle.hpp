/// What the tests share that hold our decoders against another one on real reports. The reports are no part of the
/// project: they are looked for in $PAPPUS_SHARED_DATA, else in ../shared/data beside the source tree.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/instant.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text::oracle {

std::string shared_file(const char* name);
std::vector<std::string> lines_of(const std::string& path);

using Cells = std::map<std::string, std::string>;
/// The rows of tests/data-external/<name>, a CSV with a header; '#' starts a comment; cells with a comma are quoted.
std::vector<Cells> rows_of(const std::string& name);

std::string fnv1a64(const std::string& text);

/// In the words of the oracles' tables; empty for what is absent.
std::string print_number(double value, int digits);
std::string print_speed(std::optional<Speed> v);
std::string print_celsius(std::optional<Temperature> v);
std::string print_direction(const std::optional<wind::Wind>& wind, bool variable);
std::string print_visibility(std::optional<Length> v, bool at_least, bool below);
std::string print_clouds(const std::vector<wind::CloudLayer>& clouds);

/// The listed differences between our reading and theirs: each with its reason, none twice.
class Differences {
 public:
  /// `table` in tests/data-external; `key` names the columns that say where (line, hash and the like).
  Differences(const std::string& table, std::vector<std::string> key);
  /// Compares one field. Equal are the same text, and two numbers apart by no more than the last digit printed (speeds
  /// 0.001 m/s, pressures 0.01 hPa). An unlisted difference fails the test.
  void compare(const Cells& place, const std::string& field, const std::string& ours, const std::string& theirs,
               const std::string& report);
  /// A listed difference that was not met fails the test.
  void expect_all_met() const;
  [[nodiscard]] int compared() const { return compared_; }

 private:
  std::vector<std::string> key_;
  std::map<std::string, bool> listed_;  // to whether it was met
  int compared_ = 0;
};

}  // namespace pappus::text::oracle
