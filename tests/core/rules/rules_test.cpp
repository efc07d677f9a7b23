#include "core/rules/rules.hpp"

#include <map>
#include <set>
#include <string>

#include <gtest/gtest.h>

#include "core/people/aboard.hpp"
#include "core/rules/rules_described.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::rules {
namespace {

using testing::read_table;
using testing::Row;

// A figure of any rule as the table of the tests writes it.
struct Figure {
  std::string name;
  double si = 0.0;
};
void list(std::vector<Figure>& out, std::string_view name, bool v) {
  out.push_back({std::string(name), v ? 1.0 : 0.0});
}
void list(std::vector<Figure>& out, std::string_view name, int v) {
  out.push_back({std::string(name), static_cast<double>(v)});
}
void list(std::vector<Figure>& out, std::string_view name, double v) { out.push_back({std::string(name), v}); }
void list(std::vector<Figure>& out, std::string_view name, Angle v) {
  out.push_back({std::string(name), v.in(degree)});
}
template <int M, int Kg, int S, int K>
void list(std::vector<Figure>& out, std::string_view name, Quantity<M, Kg, S, K> v) {
  out.push_back({std::string(name), v.in(si_unit<M, Kg, S, K>)});
}
template <class Q, class Origin>
void list(std::vector<Figure>& out, std::string_view name, Point<Q, Origin> v) {
  const bool agl = std::is_same_v<Point<Q, Origin>, HeightAgl>, amsl = std::is_same_v<Point<Q, Origin>, AltitudeAmsl>;
  list(out, name, v.from_origin());
  list(out, std::string(name) + (agl ? "_agl" : amsl ? "_amsl" : "_pressure"), v.from_origin());
}
template <class T>
void list(std::vector<Figure>& out, std::string_view name, const std::optional<T>& v) {
  if (v) list(out, name, *v);
}
template <class T>
void list(std::vector<Figure>&, std::string_view, const T&) {}  // names, dates: not figures

struct Listed {
  Rule rule;
  std::vector<Figure> figures;
};
template <class T>
void list_rule(std::map<std::string, Listed>& out, const T& rule) {
  Listed& listed = out[rule.rule.name];
  listed.rule = rule.rule;
  for_each_field<T>([&](const auto& field) { list(listed.figures, field.name, rule.*field.member); });
}
template <class T>
void list_rules(std::map<std::string, Listed>& out, const std::optional<T>& rule) {
  if (rule) list_rule(out, *rule);
}
template <class T>
void list_rules(std::map<std::string, Listed>& out, const std::vector<T>& rules) {
  for (const T& rule : rules) list_rule(out, rule);
}
std::map<std::string, Listed> listed(Which which) {
  std::map<std::string, Listed> all;
  const Set& set = rules_of(which);
  for_each_field<Set>([&](const auto& field) { list_rules(all, set.*field.member); });
  return all;
}

double si_of(const std::string& unit) {
  static const std::map<std::string, double> units{{"", 1.0},        {"m", 1.0},    {"km", 1000.0}, {"ft", 0.3048},
                                                   {"mi", 1609.344}, {"min", 60.0}, {"h", 3600.0},  {"kg", 1.0},
                                                   {"m3", 1.0},      {"deg", 1.0}};
  return units.at(unit);
}

Which which_of(const Row& row) { return *named<Which>(row.text("set")); }

TEST(Rules, TheBuiltInFilesHaveNoFault) {
  for (const Which which : {Which::us, Which::eu}) {
    for (const Issue& issue : rule_issues(which))
      ADD_FAILURE() << issue.where.file << ":" << issue.where.line << " " << issue.sentence.key << " " << issue.got;
    EXPECT_EQ(rules_of(which).which, which);
    EXPECT_GE(listed(which).size(), 15u);
  }
}

TEST(Rules, EveryRuleNamesItsParagraph) {
  for (const Which which : {Which::us, Which::eu})
    for (const auto& [name, listed] : listed(which)) {
      EXPECT_FALSE(listed.rule.paragraph.empty()) << name;
      EXPECT_NE(listed.rule.paragraph.find_first_of("0123456789"), std::string::npos) << name;
      EXPECT_EQ(listed.rule.name, name);
    }
}

TEST(Rules, HoldTheFiguresOfTheirSources) {
  for (const Row& row : read_table("rules.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto all = listed(which_of(row));
    const auto rule = all.find(row.text("rule"));
    ASSERT_NE(rule, all.end());
    if (!row.has("figure")) continue;
    bool found = false;
    for (const Figure& figure : rule->second.figures) {
      if (figure.name != row.text("figure")) continue;
      found = true;
      EXPECT_NEAR(figure.si, row["value"] * si_of(row.text("unit")), row["tolerance"]) << figure.name;
    }
    EXPECT_TRUE(found) << row.text("figure");
  }
}

TEST(Rules, EveryUnsureRuleIsMarked) {
  std::set<std::pair<Which, std::string>> told;
  for (const Row& row : read_table("rules.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    told.emplace(which_of(row), row.text("rule"));
    EXPECT_EQ(listed(which_of(row)).at(row.text("rule")).rule.sure, row["sure"] == 1.0);
    const std::string source = row.text("source");
    const bool doubtful = source.find("second hand") != std::string::npos || source.find("memory") != std::string::npos;
    EXPECT_FALSE(doubtful && row["sure"] == 1.0);
  }
  for (const Which which : {Which::us, Which::eu})
    for (const auto& [name, listed] : listed(which))
      EXPECT_TRUE(told.count({which, name})) << name << " has no row that says whether it is sure";
}

TEST(Rules, TheAmericanSetHoldsNoReserveInMinutes) {
  const Set& us = rules_of(Which::us);
  ASSERT_TRUE(us.fuel_reserve.has_value());
  EXPECT_FALSE(us.fuel_reserve->reserve.has_value());
  EXPECT_FALSE(us.fuel_reserve->single_cylinder.has_value());
  for (int cylinders = 0; cylinders < 5; ++cylinders) EXPECT_FALSE(reserve_asked_for(us, cylinders).has_value());
}

TEST(Rules, TheEuropeanReserveIsShorterWithOneCylinder) {  // R22
  const Set& eu = rules_of(Which::eu);
  EXPECT_EQ(reserve_asked_for(eu, 1), 15.0 * minute);
  EXPECT_EQ(reserve_asked_for(eu, 2), 30.0 * minute);
}

TEST(Rules, LeastHeightsLetLocalRulesGoFirst) {
  for (const Which which : {Which::us, Which::eu}) {
    EXPECT_FALSE(rules_of(which).height.empty());
    for (const MinimumHeight& minimum : rules_of(which).height) EXPECT_TRUE(minimum.rule.local_first);
  }
}

TEST(Rules, GiveTheMinimumOfThePlace) {
  for (const Row& row : read_table("vfr_minima.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const VfrMinimum* minimum =
        vfr_minimum(rules_of(which_of(row)), *named<Airspace>(row.text("airspace")), *named<Light>(row.text("light")),
                    amsl(row["amsl_ft"] * foot), agl(row["agl_ft"] * foot));
    if (!row.has("rule")) {
      EXPECT_EQ(minimum, nullptr);
      continue;
    }
    ASSERT_NE(minimum, nullptr);
    EXPECT_EQ(minimum->rule.name, row.text("rule"));
    EXPECT_NEAR(minimum->visibility.in(metre), row["visibility"] * si_of(row.text("unit")), row["tolerance"]);
  }
}

TEST(Rules, EveryPlaceInAKnownAirspaceHasAMinimum) {
  Random random = testing::seeded("Rules.EveryPlace");
  const auto check = [&](Which which, std::initializer_list<Airspace> airspaces) {
    for (const Airspace airspace : airspaces)
      for (int i = 0; i < 200; ++i) {
        const Length ground = random.uniform() * 4000.0 * metre, up = random.uniform() * 4000.0 * metre;
        const Light light = random.uniform() < 0.5 ? Light::day : Light::night;
        const VfrMinimum* minimum = vfr_minimum(rules_of(which), airspace, light, amsl(ground + up), agl(up));
        ASSERT_NE(minimum, nullptr) << name_of(airspace);
        EXPECT_GT(minimum->visibility, Length{});
        EXPECT_TRUE(minimum->clear_of_cloud || (minimum->below_cloud && minimum->above_cloud && minimum->beside_cloud));
      }
  };
  using enum Airspace;
  check(Which::us, {b, c, d, e, g});
  check(Which::eu, {b, c, d, e, f, g});
}

TEST(Rules, ObstaclesCountWithinTheirRadius) {  // R12
  const MinimumHeight* congested = minimum_height(rules_of(Which::us), Ground::congested);
  ASSERT_NE(congested, nullptr);
  EXPECT_TRUE(obstacle_counts(*congested, 1999.0 * foot));
  EXPECT_FALSE(obstacle_counts(*congested, 2001.0 * foot));
  EXPECT_EQ(minimum_height(rules_of(Which::eu), Ground::sparse), nullptr);
}

TEST(Rules, AClearanceOfFiveHundredFeetIsASlant) {  // R13, W31: FAA-H-8083-11B ch. 7, exact
  EXPECT_NEAR(height_for_clearance(500.0 * foot, 400.0 * foot).in(foot), 300.0, 1e-9);
  EXPECT_EQ(height_for_clearance(500.0 * foot, 500.0 * foot), Length{});
  EXPECT_EQ(height_for_clearance(500.0 * foot, 900.0 * foot), Length{});
}

TEST(Rules, TheSlantHeightFallsWithDistance) {
  Random random = testing::seeded("Rules.Slant");
  for (int i = 0; i < 1000; ++i) {
    const Length clearance = (1.0 + 500.0 * random.uniform()) * metre;
    const Length near = random.uniform() * 600.0 * metre, far = near + random.uniform() * 100.0 * metre;
    EXPECT_GE(height_for_clearance(clearance, near), height_for_clearance(clearance, far));
    EXPECT_LE(height_for_clearance(clearance, near), clearance);
  }
}

TEST(Rules, OxygenGoesByHeightAndTime) {  // R26: 30 against 31 minutes
  const auto at = [](double ft) { return PressureAltitude::at(ft * foot); };
  const Oxygen& eu = *rules_of(Which::eu).oxygen;
  EXPECT_EQ(oxygen_need(eu, at(10000), std::nullopt).crew, Need::no);
  EXPECT_EQ(oxygen_need(eu, at(12000), 30.0 * minute).crew, Need::no);
  EXPECT_EQ(oxygen_need(eu, at(12000), 31.0 * minute).crew, Need::yes);
  EXPECT_EQ(oxygen_need(eu, at(12000), std::nullopt).crew, Need::not_known);
  EXPECT_EQ(oxygen_need(eu, at(13000), 31.0 * minute).everyone, Need::no);
  EXPECT_EQ(oxygen_need(eu, at(13001), 1.0 * minute).everyone, Need::yes);
  EXPECT_EQ(oxygen_need(eu, at(13001), 1.0 * minute).crew, Need::yes);
  const Oxygen& us = *rules_of(Which::us).oxygen;
  EXPECT_EQ(oxygen_need(us, at(13000), 30.0 * minute).crew, Need::no);
  EXPECT_EQ(oxygen_need(us, at(14001), std::nullopt).crew, Need::yes);
  EXPECT_EQ(oxygen_need(us, at(14500), 31.0 * minute).everyone, Need::no);
  EXPECT_EQ(oxygen_need(us, at(15001), 31.0 * minute).everyone, Need::yes);
}

TEST(Rules, CountTheCrewAndTheLocator) {  // R24, R28
  const Set &us = rules_of(Which::us), &eu = rules_of(Which::eu);
  EXPECT_FALSE(extra_crew_asked_for(eu, 19));
  EXPECT_TRUE(extra_crew_asked_for(eu, 20));
  EXPECT_FALSE(extra_crew_asked_for(us, 20));
  EXPECT_FALSE(own_locator_asked_for(eu, 6));
  EXPECT_TRUE(own_locator_asked_for(eu, 7));
}

TEST(Rules, AgreeWithTheMassesThatLoadsAdd) {  // R23: 80 kg stated, at least 87 kg
  const MassAdditions& added = *rules_of(Which::eu).mass_additions;
  EXPECT_GE(people::kClothing, added.clothing);
  EXPECT_GE(people::kHandBaggage, added.hand_baggage);
  const people::Person person{people::Role::passenger, {}, 80.0 * kilogram, people::MassBasis::stated, {}};
  EXPECT_NEAR(people::loaded(person).total().in(kilogram), 87.0, 1e-12);
}

TEST(Rules, GroupByVolume) {  // R33
  const Groups& groups = *rules_of(Which::eu).groups;
  EXPECT_EQ(group_of(groups, 3400.0 * cubic_metre), Group::a);
  EXPECT_EQ(group_of(groups, 3401.0 * cubic_metre), Group::b);
  EXPECT_EQ(group_of(groups, 6001.0 * cubic_metre), Group::c);
  EXPECT_EQ(group_of(groups, 10501.0 * cubic_metre), Group::d);
}

TEST(ReadRules, NamesWhatIsWrong) {
  struct Case {
    const char* toml;
    const char* issue;
    int line;
    const char* got;
    const char* wanted;
  };
  const std::string head = "paragraph = \"1\"\nsure = true\n";
  for (const Case& c : {
           Case{"[registraton]\nH years = 7", "issue.rules_table", 2, "registraton", "registration"},
           Case{"[registration]\nH years_h = 7\n", "issue.rules_name", 4, "years_h", "years"},
           Case{"[registration]\nH yers = 7\nyears = 7", "issue.rules_name", 4, "yers", "years"},
           Case{"[registration]\nH", "issue.rules_missing", 2, "", "years"},
           Case{"[registration]\nsure = true\nyears = 7", "issue.rules_missing", 2, "", "paragraph"},
           Case{"[registration]\nparagraph = \"1\"\nyears = 7", "issue.rules_missing", 2, "", "sure"},
           Case{"[registration]\nparagraph = \"\"\nsure = true\nyears = 7", "issue.rules_value", 2, "", "a text"},
           Case{"[registration]\nparagraph = \"1\"\nsure = \"no\"\nyears = 7", "issue.rules_value", 3, "no",
                "true or false"},
           Case{"[registration]\nH years = 6.5", "issue.rules_value", 4, "6.5", "a whole number"},
           Case{"[registration]\nH years = -7", "issue.rules_value", 4, "-7", "a number above 0"},
           Case{"[registration]\nH years = true", "issue.rules_value", 4, "true", "a number above 0"},
           Case{"[drop_line]\nH at_least = 25", "issue.rules_name", 4, "at_least", "at_least_m"},
           Case{"[drop_line]\nH at_least_m = 25\nat_least_ft = 82", "issue.rules_name", 5, "at_least_ft", "at_least_m"},
           Case{"[medical]\nH since = \"22 May 2023\"\nmedical_class = 2", "issue.rules_value", 4, "22 May 2023",
                "\"YYYY-MM-DD\""},
           Case{"[vfr.x]\nH airspaces = \"C X\"\nlight = \"any\"\nvisibility_km = 5", "issue.rules_value", 4, "C X",
                "A B C D E F G"},
           Case{"[vfr.x]\nH airspaces = \"C\"\nlight = \"dusk\"\nvisibility_km = 5", "issue.rules_value", 5, "dusk",
                "day night any"},
           Case{"years = 7", "issue.rules_table", 1, "", ""},
           Case{"[registration]\nH years = 7\nyears = 8", "issue.text_twice", 5, "registration.years", ""},
       }) {
    std::string toml = c.toml;
    if (const std::size_t at = toml.find('H'); at != std::string::npos && toml[at - 1] == '\n')
      toml.replace(at, toml[at + 1] == ' ' ? 2 : 1, head);
    SCOPED_TRACE(toml);
    const Parsed<Set> parsed = read_rules(Which::us, toml, "test.toml");
    ASSERT_FALSE(parsed.issues.empty());
    const Issue& issue = parsed.issues.front();
    EXPECT_EQ(issue.sentence.key, c.issue);
    EXPECT_EQ(issue.where.file, "test.toml");
    EXPECT_EQ(issue.where.line, c.line);
    EXPECT_EQ(issue.got, c.got);
    EXPECT_EQ(issue.wanted, c.wanted);
    ASSERT_TRUE(parsed.value);
    EXPECT_FALSE(parsed.value->registration || parsed.value->drop_line || parsed.value->medical);
    EXPECT_TRUE(parsed.value->vfr.empty());
  }
}

TEST(ReadRules, AFaultyRuleLeavesTheOthersStanding) {
  const Parsed<Set> parsed =
      read_rules(Which::eu,
                 "[drop_line]\nparagraph = \"1\"\nsure = true\n[extra_crew]\nparagraph = \"2\"\nsure = false\n"
                 "passengers_more_than = 19\n",
                 "test.toml");
  EXPECT_EQ(parsed.issues.size(), 1u);
  EXPECT_FALSE(parsed.value->drop_line.has_value());
  ASSERT_TRUE(parsed.value->extra_crew.has_value());
  EXPECT_EQ(parsed.value->extra_crew->passengers_more_than, 19);
}

}  // namespace
}  // namespace pappus::rules
