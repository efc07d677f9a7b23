#include "core/sky/variation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "core/base/math.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::sky {
namespace {

using testing::read_table;
using testing::Row;
using testing::seeded;

Position place(double latitude, double longitude) {
  return Position::at(latitude * degree, short_way(longitude * degree)).value();
}

MagneticField field_of(const Row& row) {
  return magnetic_field(place(row["lat_deg"], row["lon_deg"]), row["height_km"] * kilometre, row["year"]).value();
}

double quantity_of(const MagneticField& f, const std::string& name) {
  const double horizontal = math::hypot(f.north_nt, f.east_nt);
  if (name == "X") return f.north_nt;
  if (name == "Y") return f.east_nt;
  if (name == "Z") return f.down_nt;
  if (name == "H") return horizontal;
  if (name == "F") return math::hypot(horizontal, f.down_nt);
  if (name == "D") return f.variation.east.in(degree);
  if (name == "I") return math::atan2(f.down_nt, horizontal) * radian.in(degree);
  throw std::runtime_error("no quantity " + name);
}

TEST(MagneticField, MatchesTheModelsPrintedTestValues) {
  for (const Row& row : read_table("variation_official.csv")) {
    SCOPED_TRACE(row.where() + " " + row.text("id"));
    EXPECT_NEAR(quantity_of(field_of(row), row.text("quantity")), row["value"], row["tolerance"])
        << row.text("quantity");
  }
}

TEST(MagneticField, MatchesTheRowsThatShipWithTheCoefficients) {
  double worst_nt = 0.0, worst_deg = 0.0;
  ASSERT_EQ(read_table("variation_rows.csv").size(), 100u);
  for (const Row& row : read_table("variation_rows.csv")) {
    SCOPED_TRACE(row.where());
    const MagneticField f = field_of(row);
    EXPECT_NEAR(f.north_nt, row["x_nt"], row["tolerance_nt"]);
    EXPECT_NEAR(f.east_nt, row["y_nt"], row["tolerance_nt"]);
    EXPECT_NEAR(f.down_nt, row["z_nt"], row["tolerance_nt"]);
    EXPECT_NEAR(f.variation.east.in(degree), row["d_deg"], row["tolerance_deg"]);
    EXPECT_TRUE(f.within_validity);
    worst_nt = std::max({worst_nt, std::abs(f.north_nt - row["x_nt"]), std::abs(f.east_nt - row["y_nt"]),
                         std::abs(f.down_nt - row["z_nt"])});
    worst_deg = std::max(worst_deg, std::abs(f.variation.east.in(degree)-row["d_deg"]));
  }
  RecordProperty("worst_nt", std::to_string(worst_nt));
  RecordProperty("worst_deg", std::to_string(worst_deg));
}

TEST(MagneticField, ChangesLinearlyWithTheYear) {
  Random random = seeded("MagneticField.Linear");
  for (int i = 0; i < 200; ++i) {
    const Position where = place(random.uniform(-90.0, 90.0), random.uniform(-180.0, 180.0));
    const Length height = random.uniform(-1.0, 850.0) * kilometre;
    const double year = random.uniform(2020.0, 2030.0), step = random.uniform(0.0, 2.5);
    const auto a = magnetic_field(where, height, year), b = magnetic_field(where, height, year + step),
               c = magnetic_field(where, height, year + 2.0 * step);
    ASSERT_TRUE(a && b && c);
    EXPECT_NEAR(b->north_nt - a->north_nt, c->north_nt - b->north_nt, 1e-6);
    EXPECT_NEAR(b->east_nt - a->east_nt, c->east_nt - b->east_nt, 1e-6);
    EXPECT_NEAR(b->down_nt - a->down_nt, c->down_nt - b->down_nt, 1e-6);
  }
}

TEST(MagneticField, IsContinuousInPlaceAndTime) {
  Random random = seeded("MagneticField.Continuous");
  for (int i = 0; i < 500; ++i) {
    const double latitude = random.uniform(-89.9, 89.9), longitude = random.uniform(-180.0, 180.0);
    const double year = random.uniform(2025.0, 2029.99);
    const auto here = magnetic_field(place(latitude, longitude), 300.0 * metre, year);
    const auto near = magnetic_field(place(latitude + 0.001, longitude), 310.0 * metre, year + 0.001);
    ASSERT_TRUE(here && near);
    // The field changes by tens of nT in 1 km at most.
    EXPECT_NEAR(here->north_nt, near->north_nt, 5.0);
    EXPECT_NEAR(here->east_nt, near->east_nt, 5.0);
    EXPECT_NEAR(here->down_nt, near->down_nt, 5.0);
    const double horizontal_nt = math::hypot(here->north_nt, here->east_nt);
    if (horizontal_nt > 2000.0) {
      EXPECT_NEAR(short_way(here->variation.east - near->variation.east).in(degree), 0.0, 0.2);
    }
  }
}

TEST(MagneticField, IsOneFieldAcrossTheDateLineAndAtThePoles) {
  const auto west = magnetic_field(place(50.0, -180.0), 0.0 * metre, 2027.0);
  const auto east = magnetic_field(Position::at(50.0 * degree, 180.0 * degree).value(), 0.0 * metre, 2027.0);
  ASSERT_TRUE(west && east);
  EXPECT_NEAR(west->north_nt, east->north_nt, 1e-6);
  EXPECT_NEAR(west->east_nt, east->east_nt, 1e-6);
  for (const double latitude : {-90.0, 90.0}) {
    const auto zero = magnetic_field(place(latitude, 0.0), 0.0 * metre, 2027.0);
    const auto quarter = magnetic_field(place(latitude, 90.0), 0.0 * metre, 2027.0);
    const auto beside = magnetic_field(place(latitude * (1.0 - 1e-9), 0.0), 0.0 * metre, 2027.0);
    ASSERT_TRUE(zero && quarter && beside);
    EXPECT_NEAR(zero->down_nt, quarter->down_nt, 1e-6);
    EXPECT_NEAR(math::hypot(zero->north_nt, zero->east_nt), math::hypot(quarter->north_nt, quarter->east_nt), 1e-6);
    EXPECT_NEAR(std::abs(short_way(quarter->variation.east - zero->variation.east).in(degree)), 90.0, 1e-6);
    EXPECT_NEAR(zero->north_nt, beside->north_nt, 0.01);
    EXPECT_NEAR(zero->east_nt, beside->east_nt, 0.01);
  }
}

TEST(MagneticField, TheVariationIsTheDirectionOfTheHorizontalField) {
  Random random = seeded("MagneticField.Variation");
  for (int i = 0; i < 500; ++i) {
    const auto f = magnetic_field(place(random.uniform(-90.0, 90.0), random.uniform(-180.0, 180.0)),
                                  random.uniform(0.0, 10.0) * kilometre, random.uniform(2025.0, 2030.0));
    ASSERT_TRUE(f);
    const double horizontal_nt = math::hypot(f->north_nt, f->east_nt);
    EXPECT_NEAR(horizontal_nt * sin(f->variation.east), f->east_nt, 1e-6);
    EXPECT_NEAR(horizontal_nt * cos(f->variation.east), f->north_nt, 1e-6);
    EXPECT_GE(f->uncertainty, 0.26 * degree);
    EXPECT_LE(f->uncertainty, 180.0 * degree);
    EXPECT_NEAR(f->uncertainty.in(degree),
                std::min(180.0, math::sqrt(0.26 * 0.26 + 5417.0 * 5417.0 / (horizontal_nt * horizontal_nt))), 1e-9);
    const TrueBearing course = TrueBearing::at(random.uniform(0.0, 360.0) * degree);
    EXPECT_NEAR((to_true(to_magnetic(course, f->variation), f->variation) - course).in(degree), 0.0, 1e-10);
  }
}

TEST(MagneticField, FallsOffWithHeightAsADipoleAlmostDoes) {
  const auto low = magnetic_field(place(45.0, 10.0), 0.0 * metre, 2027.0);
  const auto high = magnetic_field(place(45.0, 10.0), 850.0 * kilometre, 2027.0);
  ASSERT_TRUE(low && high);
  const double ratio = quantity_of(*high, "F") / quantity_of(*low, "F");
  EXPECT_NEAR(ratio, std::pow(6371.2 / 7221.2, 3), 0.05);
}

TEST(MagneticField, MarksYearsOutsideTheModelAndRefusesDistantOnes) {
  const Position here = place(47.0, 9.0);
  const auto within = [&](double year) { return magnetic_field(here, 0.0 * metre, year).value().within_validity; };
  EXPECT_TRUE(within(2025.0));
  EXPECT_TRUE(within(2029.999));
  EXPECT_FALSE(within(2024.999));
  EXPECT_FALSE(within(2030.0));
  EXPECT_FALSE(within(2020.0));
  EXPECT_FALSE(within(2035.0));
  for (const double year :
       {2019.999, 2035.001, -1.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    const auto refused = magnetic_field(here, 0.0 * metre, year);
    ASSERT_FALSE(refused) << year;
    EXPECT_EQ(refused.error().code, Errc::out_of_range);
    EXPECT_EQ(refused.error().sentence.key, "issue.variation_year_range");
    EXPECT_FALSE(refused.error().wanted.empty());
  }
}

TEST(MagneticField, RefusesHeightsOutsideTheModel) {
  EXPECT_TRUE(magnetic_field(place(47.0, 9.0), -1.0 * kilometre, 2027.0));
  EXPECT_TRUE(magnetic_field(place(47.0, 9.0), 850.0 * kilometre, 2027.0));
  for (const double height_km : {-1.001, 850.001, std::numeric_limits<double>::quiet_NaN()}) {
    const auto refused = magnetic_field(place(47.0, 9.0), height_km * kilometre, 2027.0);
    ASSERT_FALSE(refused) << height_km;
    EXPECT_EQ(refused.error().code, Errc::out_of_range);
    EXPECT_EQ(refused.error().sentence.key, "issue.variation_height_range");
  }
}

TEST(DecimalYear, CountsTheFractionByTheLengthOfItsYear) {
  const auto at = [](const char* text) { return decimal_year(parse_moment(text).value().at); };
  EXPECT_EQ(at("2027-01-01T00:00:00Z"), 2027.0);
  EXPECT_EQ(at("2028-01-01T00:00:00Z"), 2028.0);
  EXPECT_DOUBLE_EQ(at("2028-07-02T00:00:00Z"), 2028.5);  // day 183 of 366
  EXPECT_DOUBLE_EQ(at("2027-07-02T12:00:00Z"), 2027.5);  // day 182.5 of 365
  EXPECT_LT(at("2029-12-31T23:59:59Z"), 2030.0);
  EXPECT_EQ(at("2030-01-01T00:00:00+01:00"), decimal_year(parse_moment("2029-12-31T23:00:00Z").value().at));
}

TEST(DecimalYear, RisesStrictly) {
  Random random = seeded("DecimalYear.Rises");
  for (int i = 0; i < 1000; ++i) {
    const auto ms = static_cast<std::int64_t>(random.uniform(-1e12, 3e12));
    const Instant a = Instant::from_unix_milliseconds(ms), b = a + random.uniform(1.0, 1e7) * second;
    EXPECT_LT(decimal_year(a), decimal_year(b));
  }
}

TEST(DecimalYear, IsFarFromTheModelForInstantsBeyondTheCalendar) {
  using Limits = std::numeric_limits<std::int64_t>;
  EXPECT_GT(decimal_year(Instant::from_unix_milliseconds(Limits::max())), 1e6);
  EXPECT_LT(decimal_year(Instant::from_unix_milliseconds(Limits::min())), -1e6);
  // 65,536 years on, where a 16-bit count of years would come round to 2027.
  EXPECT_NEAR(decimal_year(Instant::from_unix_milliseconds(2'069'908'992'000'000)), 67563.0, 1.0);
}

TEST(Variation, IsValidToTheEndOf2029) {
  const Date last = variation_valid_until();
  EXPECT_EQ(iso8601(last), "2029-12-31");
  const auto valid = [](Date d) {
    const double year = decimal_year(instant_of(d, 23, 59, 59.0, UtcOffset{}));
    return magnetic_field(place(47.0, 9.0), 0.0 * metre, year).value().within_validity;
  };
  EXPECT_TRUE(valid(last));
  EXPECT_FALSE(valid(last.plus_days(1)));
}

}  // namespace
}  // namespace pappus::sky
