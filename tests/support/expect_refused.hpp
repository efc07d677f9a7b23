/// Holds a refusal against all that a reader is owed: the code, the sentence, what was found, what would be right.
#pragma once
#include <string_view>

#include <gtest/gtest.h>

#include "core/base/issue.hpp"

namespace pappus::testing {

template <class T>
void expect_refused(const Result<T>& result, Errc code, std::string_view key, std::string_view got,
                    std::string_view wanted) {
  ASSERT_FALSE(result.has_value()) << "not refused: " << key;
  EXPECT_EQ(result.error().code, code) << key;
  EXPECT_EQ(result.error().sentence.key, key);
  EXPECT_EQ(result.error().got, got) << key;
  EXPECT_EQ(result.error().wanted, wanted) << key;
}

/// The same where only the kind of refusal matters: what was found and what would be right are told, whatever they are.
template <class T>
void expect_refused(const Result<T>& result, std::string_view key, Errc code = Errc::out_of_range) {
  ASSERT_FALSE(result.has_value()) << "not refused: " << key;
  EXPECT_EQ(result.error().code, code) << key;
  EXPECT_EQ(result.error().sentence.key, key);
  EXPECT_FALSE(result.error().got.empty()) << key;
  EXPECT_FALSE(result.error().wanted.empty()) << key;
}

}  // namespace pappus::testing
