/// Holds a value against a row of a table, known failures included.
#pragma once
#include <cmath>
#include <string_view>

#include <gtest/gtest.h>

#include "tests/support/table.hpp"

namespace pappus::testing {

/// `value` lies within the row's tolerance of its column "value". A row with a reason in `known_failing` must fail, so
/// that the mark is taken off when the value comes right.
inline void expect_row(const Row& row, double value, std::string_view tolerance_column = "tolerance") {
  const double tolerance = row[tolerance_column];
  if (row.has("known_failing"))
    EXPECT_GT(std::abs(value - row["value"]), tolerance) << row.where() << ": passes now, yet is marked known_failing";
  else
    EXPECT_NEAR(value, row["value"], tolerance) << row.text("id") << ", " << row.where();
}

}  // namespace pappus::testing
