/// The page's colours and its style sheet.
#pragma once
#include <array>
#include <string>
#include <string_view>

namespace pappus::paper {

/// What a colour is for decides how far it must stand off what is behind it: WCAG 2.1, 1.4.3 (text 4.5 to 1) and 1.4.11
/// (what must be seen to understand a drawing 3 to 1). tests/faces/paper/style_test.cpp reckons it for every pair.
enum class Use { behind, text, drawing, hairline };

struct Colour {
  std::string_view name;
  Use use;
  std::string_view light, dark;
};

inline constexpr std::array<Colour, 14> kPalette{{
    {"ground", Use::behind, "#fcfbf8", "#11161b"},
    {"panel", Use::behind, "#f2efe8", "#1a2129"},
    {"ink", Use::text, "#1a2128", "#e8ebee"},
    {"quiet", Use::text, "#525c66", "#a9b3bd"},
    {"blue", Use::text, "#0a5580", "#79c0ea"},     // wind, lift, ground in reach
    {"warm", Use::text, "#8f4100", "#f2ab6e"},     // temperature
    {"care", Use::text, "#7d4b00", "#f0b94f"},     // near
    {"bad", Use::text, "#a31919", "#ff9d8f"},      // outside
    {"unknown", Use::text, "#56398a", "#c6adf7"},  // not known
    {"sun", Use::drawing, "#9a7300", "#d9b53c"},
    {"axis", Use::drawing, "#767c83", "#7d8893"},
    {"frame", Use::drawing, "#6f757c", "#86919c"},
    {"line", Use::hairline, "#d8d3c8", "#2f3841"},
    {"faint", Use::hairline, "#e6e2d9", "#232b33"},
}};

[[nodiscard]] const std::string& style_sheet();

}  // namespace pappus::paper
