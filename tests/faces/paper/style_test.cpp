#include "faces/paper/style.hpp"

#include <algorithm>
#include <string>

#include <gtest/gtest.h>

#include "core/base/math.hpp"

namespace pappus::paper {
namespace {

double channel(std::string_view colour, std::size_t at) {
  const std::string two{colour.substr(at, 2)};
  const double c = static_cast<double>(std::stoi(two, nullptr, 16)) / 255.0;
  return c <= 0.04045 ? c / 12.92 : math::pow((c + 0.055) / 1.055, 2.4);
}

// WCAG 2.1, relative luminance and contrast ratio.
double luminance(std::string_view colour) {
  return 0.2126 * channel(colour, 1) + 0.7152 * channel(colour, 3) + 0.0722 * channel(colour, 5);
}
double contrast(std::string_view a, std::string_view b) {
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

TEST(Style, ContrastIsReckonedAsPublished) {
  // WCAG 2.1: black on white is 21 to 1; #767676 is the lightest grey with 4.5 on white (W3C, Understanding 1.4.3).
  EXPECT_NEAR(contrast("#000000", "#ffffff"), 21.0, 1e-9);
  EXPECT_GE(contrast("#767676", "#ffffff"), 4.5);
  EXPECT_LT(contrast("#777777", "#ffffff"), 4.5);
}

TEST(Style, EveryColourStandsOffWhatIsBehindIt) {
  for (const Colour& behind : kPalette) {
    if (behind.use != Use::behind) continue;
    for (const Colour& c : kPalette) {
      if (c.use == Use::behind || c.use == Use::hairline) continue;
      const double wanted = c.use == Use::text ? 4.5 : 3.0;
      EXPECT_GE(contrast(c.light, behind.light), wanted) << c.name << " on light " << behind.name;
      EXPECT_GE(contrast(c.dark, behind.dark), wanted) << c.name << " on dark " << behind.name;
    }
  }
}

TEST(Style, HasASchemeForLightDarkAndPaper) {
  const std::string& css = style_sheet();
  EXPECT_NE(css.find("prefers-color-scheme:dark"), std::string::npos);
  EXPECT_NE(css.find("@media print"), std::string::npos);
  EXPECT_NE(css.find("@page"), std::string::npos);
}

TEST(Style, UsesNoColourBesideThePalette) {
  const std::string& css = style_sheet();
  std::size_t colours = 0;
  for (std::size_t at = css.find('#'); at != std::string::npos; at = css.find('#', at + 1)) {
    const std::string found = css.substr(at, 7);
    bool known = false;
    for (const Colour& c : kPalette) known = known || c.light == found || c.dark == found;
    EXPECT_TRUE(known) << css.substr(at, 20);
    ++colours;
  }
  EXPECT_EQ(colours, 3 * kPalette.size());  // light, dark, and light again for paper
}

}  // namespace
}  // namespace pappus::paper
