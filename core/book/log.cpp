#include "core/book/log.hpp"

#include <array>
#include <cmath>
#include <cstdint>

namespace pappus::book {
namespace {

struct AxClass {
  int number;
  Volume up_to;
};
constexpr Volume kAboveFirst = 900.0 * cubic_metre;
constexpr std::array<AxClass, 5> kClasses{{{5, 1200.0 * cubic_metre},
                                           {6, 1600.0 * cubic_metre},
                                           {7, 2200.0 * cubic_metre},
                                           {8, 3000.0 * cubic_metre},
                                           {9, 4000.0 * cubic_metre}}};

}  // namespace

int logged_tenths(Duration flown) {
  constexpr std::int64_t unit_s = 360;
  if (!(flown > Duration{})) return 0;
  const auto flown_s = static_cast<std::int64_t>(std::round(flown.in(second)));
  return static_cast<int>((flown_s + unit_s - 1) / unit_s);
}

std::optional<int> ax_class(Volume envelope) {
  if (!(envelope > kAboveFirst)) return std::nullopt;
  for (const AxClass& c : kClasses)
    if (envelope <= c.up_to) return c.number;
  return std::nullopt;
}

}  // namespace pappus::book
