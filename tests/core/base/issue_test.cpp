#include "core/base/issue.hpp"

#include <set>
#include <string>

#include <gtest/gtest.h>

namespace pappus {
namespace {

constexpr Errc kAll[] = {Errc::bad_call,     Errc::bad_input, Errc::not_found,      Errc::conflict,
                         Errc::out_of_range, Errc::no_data,   Errc::machine_failed, Errc::cancelled};

TEST(Errc, HasTheNamesThatScriptsRelyOn) {
  EXPECT_EQ(name_of(Errc::bad_call), "bad_call");
  EXPECT_EQ(name_of(Errc::bad_input), "bad_input");
  EXPECT_EQ(name_of(Errc::not_found), "not_found");
  EXPECT_EQ(name_of(Errc::conflict), "conflict");
  EXPECT_EQ(name_of(Errc::out_of_range), "out_of_range");
  EXPECT_EQ(name_of(Errc::no_data), "no_data");
  EXPECT_EQ(name_of(Errc::machine_failed), "machine_failed");
  EXPECT_EQ(name_of(Errc::cancelled), "cancelled");
}

TEST(Errc, HasTheExitStatusesOfTheContract) {
  EXPECT_EQ(exit_status(Errc::bad_call), 2);
  for (const Errc e : {Errc::bad_input, Errc::not_found, Errc::conflict}) EXPECT_EQ(exit_status(e), 3);
  for (const Errc e : {Errc::out_of_range, Errc::no_data}) EXPECT_EQ(exit_status(e), 4);
  EXPECT_EQ(exit_status(Errc::machine_failed), 5);
  EXPECT_EQ(exit_status(Errc::cancelled), 130);
}

TEST(Errc, HasNoNameTwice) {
  std::set<std::string_view> names;
  for (const Errc e : kAll) names.insert(name_of(e));
  EXPECT_EQ(names.size(), std::size(kAll));
}

TEST(Fail, CarriesWhatWasFoundAndWhatWouldBeRight) {
  const Result<int> r = fail(Errc::out_of_range, say("issue.too_high", {{"top", measure::height(6.0 * kilometre)}}),
                             "7000m", "at most 6000m");
  ASSERT_FALSE(r.has_value());
  EXPECT_EQ(r.error().code, Errc::out_of_range);
  EXPECT_EQ(r.error().sentence.key, "issue.too_high");
  EXPECT_EQ(r.error().got, "7000m");
  EXPECT_EQ(r.error().wanted, "at most 6000m");
  EXPECT_EQ(r.error().where, Where{});  // filled in by whoever knows the file
}

TEST(Parsed, MayHoldAValueAndIssuesBoth) {
  Parsed<int> p;
  EXPECT_FALSE(p.value.has_value());
  p.value = 3;
  p.issues.push_back(Issue{Errc::bad_input, say("issue.some"), Where{"flight.toml", 17, 3, "qnh"}, "1018", "1018hPa"});
  EXPECT_EQ(*p.value, 3);
  EXPECT_EQ(p.issues.front().where.line, 17);
}

}  // namespace
}  // namespace pappus
