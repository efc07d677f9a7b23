#include "formats/text/fb/group.hpp"

#include "formats/text/tokens/tokens.hpp"

namespace pappus::text::detail {

std::optional<FbFigures> read_fb_figures(std::string_view group) {
  if (group.size() < 4 || !is_figures(group.substr(0, 4))) return std::nullopt;
  FbFigures read{.direction = number_of(group.substr(0, 2)), .speed = number_of(group.substr(2, 2))};
  std::string_view rest = group.substr(4);
  if (rest.empty()) return read;
  read.has_sign = rest.front() == '+' || rest.front() == '-';
  const bool minus = rest.front() == '-';
  if (read.has_sign) rest.remove_prefix(1);
  if (rest.size() != 2 || !is_figures(rest)) return std::nullopt;
  read.temperature = minus ? -number_of(rest) : number_of(rest);
  return read;
}

std::optional<FbWindFigures> fb_wind_of(const FbFigures& figures) {
  constexpr int hundred_more = 50, most = 36, highest_figures = 99;
  if (figures.direction == highest_figures && figures.speed == 0) return FbWindFigures{.light_and_variable = true};
  const bool fast = figures.direction > hundred_more;
  const int tens = fast ? figures.direction - hundred_more : figures.direction;
  const int speed = fast ? figures.speed + 100 : figures.speed;
  if (tens < 1 || tens > most || speed == 0) return std::nullopt;
  return FbWindFigures{.from_deg = 10 * tens, .speed_kt = speed, .at_least = fast && figures.speed == highest_figures};
}

}  // namespace pappus::text::detail
