/// What a closed cylinder holds at one temperature and what becomes of it at another: mass stays, the level does not.
///
/// Pure propane, liquid and vapour in balance, in a shell that does not stretch. Filling is proven at the level valve or
/// on a scale; nothing here says that anyone should warm, cool or overfill a cylinder.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

/// Liquid and vapour in a shell.
struct Inside {
  Volume liquid;
  Mass liquid_mass, vapour_mass;
  double liquid_fraction = 0.0;  // of the shell
};

/// The mass of a shell that holds so much liquid, with the vapour above it.
/// Domain    liquid 0 to the shell ("propane.liquid_outside"), temperatures of saturation_at; else Errc::out_of_range.
Result<Mass> mass_inside(Volume shell, Volume liquid, Temperature t);

/// How a mass divides at a temperature.
/// Domain    a shell above nothing, masses that neither fill it with liquid at `t` ("propane.liquid_full") nor are less
///           than its vapour ("propane.no_liquid"); temperatures of saturation_at; else Errc::out_of_range.
/// Laws      inside_at(shell, mass_inside(shell, v, t), t) gives v back; between two temperatures mass is kept; with any
///           liquid fraction above a third the level rises with temperature.
Result<Inside> inside_at(Volume shell, Mass total, Temperature t);

/// The temperature at which the liquid fills the shell. From there pressure climbs by bars for every kelvin, until
/// something gives: the relief valve, at best.
/// Domain    answers from -60 to 76 C: a fuller cylinder is refused with "propane.liquid_full", an emptier one gives
///           Errc::out_of_range "propane.never_full", which is good news.
/// Accuracy  0.05 K against independent arithmetic with the full equation of state (tests/data/fill.csv).
Result<Temperature> liquid_full_temperature(Volume shell, Mass total);

/// How fast pressure rises with temperature once the liquid fills a rigid shell, in pascals per kelvin.
/// Domain    -10 to 50 C; else Errc::out_of_range ("propane.temperature_outside").
/// Accuracy  1 % of expansion over compressibility of the saturated liquid by the full equation of state (a parabola
///           through it, ours). A real shell stretches and relieves a part.
Result<double> liquid_full_pascal_per_kelvin(Temperature t);

/// The weight of water at 60 F by which filling densities are counted: 8.32828 lb per US gallon.
/// Source    WAC 296-307-40029 (as 29 CFR 1910.110).
inline constexpr Density kFillingWater = 8.32828 * (pound / us_gallon);
/// Mass of liquid over the mass of water that the shell holds, and the most that the rule allows for propane of a specific
/// gravity of 0.504 to 0.510 in a small container above ground: 42 %.
/// Source    29 CFR 1910.110 table H-23; WAC 296-307-41037 table U-4.
inline constexpr double kMostFillingDensity = 0.42;
[[nodiscard]] double filling_density(Volume shell, Mass liquid);

/// The rule's own arithmetic: the volume at 40 F that a filling density allows, from the specific gravity at 60 F and the
/// factor by which the liquid is larger at 60 F than at 40 F.
/// Source    29 CFR 1910.110(b)(19)(v)(d), worked example: 100 gal, 0.510, 42 %, 1.031 give 79.8 gal.
[[nodiscard]] Volume most_liquid_at_40f(Volume shell, double specific_gravity_60f, double density, double factor);

/// What the plate says of the level fill, held against the rule at the rule's own 40 F, so that a proper winter fill is not
/// accused. About 80 % of the shell is what level valves are cut for.
struct PlateCheck {
  double fraction = 0.0;  // level fill of the shell
  double density = 0.0;   // filling density of that fill at 40 F
  bool disagree = false;  // plate and valve disagree: the figure can't be believed, and is never good
};
/// Domain    a shell above nothing and a level fill of it from nothing up ("propane.liquid_outside").
/// Laws      disagrees exactly where the filling density is past kMostFillingDensity.
Result<PlateCheck> plate_check(Volume shell, Volume level_fill);

}  // namespace pappus::propane
