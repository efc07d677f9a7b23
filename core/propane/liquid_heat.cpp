#include "core/propane/liquid_heat.hpp"

#include <algorithm>
#include <array>

#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::propane {
namespace {

struct Node {
  double enthalpy_j_kg, along_j_kg_k, at_constant_pressure_j_kg_k;
};
constexpr double kFirstC = -60.0, kStepK = 5.0;
constexpr std::array kNodes{
    Node{-139188.8, 2174.31, 2172.022}, Node{-128268.7, 2193.94, 2191.194}, Node{-117247.4, 2214.78, 2211.520},
    Node{-106118.9, 2236.86, 2233.048}, Node{-94876.7, 2260.23, 2255.830},  Node{-83514.4, 2284.93, 2279.923},
    Node{-72025.1, 2311.01, 2305.395},  Node{-60401.9, 2338.55, 2332.327},  Node{-48637.1, 2367.60, 2360.818},
    Node{-36723.2, 2398.26, 2390.987},  Node{-24651.6, 2430.63, 2422.977},  Node{-12413.8, 2464.84, 2456.964},
    Node{0.0, 2501.01, 2493.159},       Node{12599.9, 2539.34, 2531.819},   Node{25397.3, 2580.02, 2573.266},
    Node{38404.5, 2623.32, 2617.896},   Node{51635.4, 2669.57, 2666.214},   Node{65105.7, 2719.15, 2718.867},
    Node{78833.3, 2772.59, 2776.697},   Node{92839.2, 2830.56, 2840.821},   Node{107148.0, 2893.95, 2912.750},
    Node{121789.7, 2963.94, 2994.579},  Node{136801.2, 3042.20, 3089.297},  Node{152229.4, 3131.10, 3201.322},
    Node{168135.7, 3234.16, 3337.476},  Node{184603.6, 3356.88, 3508.880},  Node{201752.0, 3508.35, 3734.951},
};

}  // namespace

Result<LiquidHeat> liquid_heat(Temperature t) {
  if (!(t >= kColdestSaturation && t <= kWarmestSaturation))
    return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdestSaturation),
                          measure::of(kWarmestSaturation));
  const double place = std::clamp((in_celsius(t) - kFirstC) / kStepK, 0.0, static_cast<double>(kNodes.size() - 1));
  const std::size_t i = std::min(static_cast<std::size_t>(place), kNodes.size() - 2);
  const double f = place - static_cast<double>(i), g = 1.0 - f;
  const Node &a = kNodes[i], &b = kNodes[i + 1];
  const double enthalpy = g * g * (1.0 + 2.0 * f) * a.enthalpy_j_kg + f * f * (3.0 - 2.0 * f) * b.enthalpy_j_kg +
                          f * g * kStepK * (g * a.along_j_kg_k - f * b.along_j_kg_k);
  return LiquidHeat{(g * a.at_constant_pressure_j_kg_k + f * b.at_constant_pressure_j_kg_k) * joule_per_kilogram_kelvin,
                    (g * a.along_j_kg_k + f * b.along_j_kg_k) * joule_per_kilogram_kelvin,
                    enthalpy * joule_per_kilogram};
}

}  // namespace pappus::propane
