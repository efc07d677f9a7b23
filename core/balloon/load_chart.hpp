/// Lift that is left for people and fuel, by height and outside temperature.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::balloon {

struct LoadChartInputs {
  std::vector<PressureAltitude> heights;
  std::vector<Temperature> outside;
  Volume volume;
  Temperature inside_mean;                         // the hottest that the crown's limit leaves
  Mass empty;                                      // what flies without people and fuel
  std::optional<Mass> gross_limit = std::nullopt;  // flight manual
};

struct LoadChart {
  std::vector<PressureAltitude> heights;
  std::vector<Temperature> outside;
  Temperature inside_mean;
  std::vector<std::vector<Mass>> left;  // [height][temperature]; below zero: it does not carry itself
  std::optional<Mass> most;             // what the gross mass limit leaves; nothing in `left` is above it
};

/// Gross lift of dry air less `empty`, and never more than the gross mass limit leaves. One pressure for each height
/// and one 1 / T for each temperature: no more than a product in a cell.
/// Domain    heights of air::pressure_at, temperatures from -80 C up to the mean inside ("load_chart.outside_outside"),
///           a mean up to 200 C ("load_chart.inside_outside"), volumes of gross_lift ("load_chart.volume_outside"),
///           empty not below zero ("load_chart.empty_outside"); else Errc::out_of_range.
/// Accuracy  as gross_lift, 1 % given the mean; the air is dry, which flatters lift by up to 1.6 % in saturated air of
///           30 C.
/// Laws      without a limit each cell is gross_lift less `empty` (within 1e-6 of it); falls with height and with the
///           outside temperature; shape: left.size() == heights.size(), each row as long as `outside`.
/// Source    as gross_lift; the handbook's chart reading LIFT-009 of tests/data/lift.csv.
Result<LoadChart> load_chart(const LoadChartInputs& inputs);

}  // namespace pappus::balloon

namespace pappus {
template <>
struct Description<balloon::LoadChart> {
  static constexpr std::string_view name = "LoadChart";
  static constexpr auto fields = Fields{
      field("pressure_altitudes", &balloon::LoadChart::heights, "heights by pressure, one for each row"),
      field("outside", &balloon::LoadChart::outside, "air temperatures, one for each column"),
      field("inside_mean", &balloon::LoadChart::inside_mean, "mean inside: the crown's limit less its excess"),
      field("left", &balloon::LoadChart::left, "for people and fuel, row by row; below zero: it does not carry itself"),
      field("most", &balloon::LoadChart::most,
            "what the gross mass limit leaves for people and fuel; nothing in `left` is above it; null: not known")};
};
}  // namespace pappus
