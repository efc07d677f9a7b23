/// How far reduced pibals are from the truth, and how often their error bars hold it: prints the table that
/// docs/pibal-coverage.md keeps.
///
///     build/bench/pibal_coverage [FLIGHTS]
#include <cstdio>
#include <cstdlib>

#include "tests/support/pibal_flights.hpp"

namespace {

using pappus::testing::PibalScore;
using pappus::testing::Rows;
using pappus::testing::Unsteady;

void print(const char* name, const PibalScore& s) {
  std::printf("| %s | %zu | %.2f | %.2f | %.1f %% | %.1f %% | %d of %d | %d of %d | %d |\n", name, s.errors_m_s.size(),
              s.median_error_m_s(), s.median_spread_m_s(), 100.0 * s.within(1.0), 100.0 * s.within(2.0),
              s.misread_found, s.misread, s.mistimed_found, s.mistimed, s.wrongly_doubted);
}

}  // namespace

int main(int argc, char** argv) {
  const int flights = argc > 1 ? std::atoi(argv[1]) : 10'000;
  if (flights < 1) {
    std::fprintf(stderr, "a positive number of flights is needed\n");
    return 2;
  }
  std::printf("%d flights a row\n\n", flights);
  std::printf(
      "| case | winds | median error m/s | median spread m/s | within 1 spread | within 2 | misread found | mistimed "
      "found | others left out |\n");
  std::printf("|---|---|---|---|---|---|---|---|---|\n");
  Unsteady two_degrees;
  print("2 degrees, all layers", score_pibals(flights, two_degrees, Rows::layers));
  print("- layers below 100 m", score_pibals(flights, two_degrees, Rows::layers, 0.0, 100.0));
  print("- 100 to 200 m", score_pibals(flights, two_degrees, Rows::layers, 100.0, 200.0));
  print("- 200 to 500 m", score_pibals(flights, two_degrees, Rows::layers, 200.0, 500.0));
  print("- rows of the ladder", score_pibals(flights, two_degrees, Rows::ladder));
  Unsteady careless = two_degrees;
  careless.misread = 0.03;
  print("2 degrees, 3 % of the azimuths misread", score_pibals(flights, careless, Rows::layers));
  Unsteady punctual = two_degrees;
  punctual.mistimed = 0.0;
  print("2 degrees, no call mistimed", score_pibals(flights, punctual, Rows::layers));
  Unsteady air = two_degrees;
  air.vertical_air_m_s = 0.15;
  print("2 degrees, air rising and sinking 0.15 m/s", score_pibals(flights, air, Rows::layers));
  Unsteady by_hand = two_degrees;
  by_hand.azimuth_deg = 5.0;
  print("compass 5, clinometer 2 (the defaults)", score_pibals(flights, by_hand, Rows::layers));
  print("- rows of the ladder", score_pibals(flights, by_hand, Rows::ladder));
  Unsteady theodolite = two_degrees;
  theodolite.azimuth_deg = theodolite.elevation_deg = 0.2;
  theodolite.reading_deg = 0.1;
  print("theodolite 0.2", score_pibals(flights, theodolite, Rows::layers));
  print("- rows of the ladder", score_pibals(flights, theodolite, Rows::ladder));
  theodolite.misread = 0.03;
  print("theodolite 0.2, 3 % misread", score_pibals(flights, theodolite, Rows::layers));
  return 0;
}
