/// The parts of core whose numbers are compared between compilers.
#pragma once
#include <functional>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/random.hpp"

namespace pappus::agreement {

using Value = std::variant<double, std::string_view>;
using Values = std::vector<Value>;

struct Group {
  const char* name;
  int cases;
  std::function<Values(Random&)> outputs;
};

/// Of the models (models.cpp), which groups() puts behind the base (groups.cpp).
std::vector<Group> model_groups();
const std::vector<Group>& groups();

}  // namespace pappus::agreement
