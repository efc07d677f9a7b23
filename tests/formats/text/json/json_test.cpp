#include "formats/text/json/json_out.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <set>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "core/sheet/limit.hpp"
#include "tests/support/seeded.hpp"

namespace pappus {
namespace json_test {

using Json = nlohmann::ordered_json;

const words::Reader kUs{};
const words::Reader kMetric{words::Language::en, words::Units::metric, {}, {}};

enum class Colour { red, green };

struct Inner {
  Mass mass;
  std::optional<Colour> colour;
};

/// One field of every type that can be written.
struct Everything {
  Length length;
  Area area;
  Volume volume;
  Mass margin;
  Duration age;
  TemperatureDelta spread;
  Speed speed;
  Density density;
  Pressure qnh;
  Energy energy;
  Power power;
  MassFlow flow;
  SpecificEnergy latent_heat;
  HeatFlux heat_flux;
  LapseRate lapse;
  AltitudeAmsl altitude;
  HeightAgl height;
  PressureAltitude pressure_altitude;
  DensityAltitude density_altitude;
  GeopotentialAltitude geopotential_altitude;
  Temperature temperature;
  GaugePressure gauge_pressure;
  Angle slope;
  TrueBearing from;
  MagneticBearing heading;
  bool wet = false;
  int year = 0;
  std::size_t people = 0;
  double chance = 0.0;
  std::string name;
  Colour colour = Colour::red;
  Moment time;
  Instant seen;
  Date due;
  Measure value;
  Sentence finding;
  Position at;
  Issue issue;
  Inner inner;
  std::optional<Mass> weighed;
  std::optional<Mass> not_weighed;
  std::optional<Inner> other;
  std::vector<Length> rungs;
  std::vector<Inner> parts;
  std::vector<std::vector<double>> rows;
  std::vector<std::optional<Temperature>> temperatures;
};

inline Everything everything() {
  return {12.5 * metre,
          2.0 * square_metre,
          3.0 * cubic_metre,
          4.2 * kilogram,
          600 * second,
          2.2 * kelvin,
          3.6 * metre_per_second,
          1.225 * kilogram_per_cubic_metre,
          101800 * pascal,
          5.0 * joule,
          5.4e6 * watt,
          0.02 * kilogram_per_second,
          344000 * joule_per_kilogram,
          1000 * watt_per_square_metre,
          LapseRate::from_si(-0.0065),
          amsl(1500 * metre),
          agl(150 * metre),
          PressureAltitude::at(1480 * metre),
          DensityAltitude::at(2225 * metre),
          GeopotentialAltitude::at(1499 * metre),
          Temperature::at(301.15 * kelvin),
          GaugePressure::at(434370 * pascal),
          -12.5 * degree,
          TrueBearing::at(215 * degree),
          MagneticBearing::at(202 * degree),
          true,
          2019,
          4,
          0.1,
          "Ünïcode \"q\" \\ \n\t\x01",
          Colour::green,
          *parse_moment("2027-05-16T04:50:00-09:00"),
          parse_moment("2027-05-16T04:50:00-09:00")->at,
          *Date::of(2026, 5, 20),
          measure::of(4.2 * kilogram),
          say("issue.latitude_range", {{"got", measure::height(1500 * foot)}}),
          *Position::at(38.9 * degree, -133.4 * degree),
          {Errc::bad_input, say("word.pilot"), {"flight.toml", 17, 3, "cylinder[1].tare"}, "18", "18kg"},
          {85 * kilogram, Colour::red},
          46 * kilogram,
          std::nullopt,
          Inner{1 * kilogram, std::nullopt},
          {1 * metre, 2 * metre},
          {{1 * kilogram, Colour::red}, {2 * kilogram, std::nullopt}},
          {{1, 2}, {}},
          {Temperature::at(280 * kelvin), std::nullopt}};
}

struct NotFinite {
  Mass mass;
};
struct Twice {
  Length one, other;
};
struct SameNameA {
  int a = 0;
};
struct SameNameB {
  SameNameA a;
};
struct MergedAmount {
  Length length;
};
struct Nothing {};
struct Tree {
  std::vector<Tree> branches;
};

}  // namespace json_test
using namespace json_test;

template <>
struct Names<Colour> {
  static constexpr std::array<std::pair<Colour, std::string_view>, 2> all{
      {{Colour::red, "red"}, {Colour::green, "green"}}};
};
template <>
struct Description<Inner> {
  static constexpr std::string_view name = "Inner";
  static constexpr auto fields =
      Fields{field("mass", &Inner::mass, "its mass"), field("colour", &Inner::colour, "its colour")};
};
template <>
struct Description<Everything> {
  static constexpr std::string_view name = "Everything";
  static constexpr auto fields = Fields{field("length", &Everything::length, "doc of length"),
                                        field("area", &Everything::area, ""),
                                        field("volume", &Everything::volume, ""),
                                        field("margin", &Everything::margin, ""),
                                        field("age", &Everything::age, ""),
                                        field("spread", &Everything::spread, ""),
                                        field("speed", &Everything::speed, ""),
                                        field("density", &Everything::density, ""),
                                        field("qnh", &Everything::qnh, ""),
                                        field("energy", &Everything::energy, ""),
                                        field("power", &Everything::power, ""),
                                        field("flow", &Everything::flow, ""),
                                        field("latent_heat", &Everything::latent_heat, ""),
                                        field("heat_flux", &Everything::heat_flux, ""),
                                        field("lapse", &Everything::lapse, ""),
                                        field("altitude", &Everything::altitude, ""),
                                        field("height", &Everything::height, ""),
                                        field("pressure_altitude", &Everything::pressure_altitude, ""),
                                        field("density_altitude", &Everything::density_altitude, ""),
                                        field("geopotential_altitude", &Everything::geopotential_altitude, ""),
                                        field("temperature", &Everything::temperature, ""),
                                        field("gauge_pressure", &Everything::gauge_pressure, ""),
                                        field("slope", &Everything::slope, ""),
                                        field("from", &Everything::from, ""),
                                        field("heading", &Everything::heading, ""),
                                        field("wet", &Everything::wet, ""),
                                        field("year", &Everything::year, ""),
                                        field("people", &Everything::people, ""),
                                        field("chance", &Everything::chance, ""),
                                        field("name", &Everything::name, ""),
                                        field("paint", &Everything::colour, ""),
                                        field("time", &Everything::time, ""),
                                        field("seen", &Everything::seen, ""),
                                        field("due", &Everything::due, ""),
                                        field("value", &Everything::value, ""),
                                        field("finding", &Everything::finding, ""),
                                        field("at", &Everything::at, ""),
                                        field("issue", &Everything::issue, ""),
                                        field("", &Everything::inner, ""),
                                        field("weighed", &Everything::weighed, ""),
                                        field("not_weighed", &Everything::not_weighed, ""),
                                        field("other", &Everything::other, ""),
                                        field("rungs", &Everything::rungs, ""),
                                        field("parts", &Everything::parts, ""),
                                        field("rows", &Everything::rows, ""),
                                        field("temperatures", &Everything::temperatures, "")};
};
template <>
struct Description<NotFinite> {
  static constexpr std::string_view name = "NotFinite";
  static constexpr auto fields = Fields{field("mass", &NotFinite::mass, "")};
};
template <>
struct Description<Twice> {
  static constexpr std::string_view name = "Twice";
  static constexpr auto fields = Fields{field("a", &Twice::one, ""), field("a", &Twice::other, "")};
};
template <>
struct Description<SameNameA> {
  static constexpr std::string_view name = "SameName";
  static constexpr auto fields = Fields{field("a", &SameNameA::a, "")};
};
template <>
struct Description<SameNameB> {
  static constexpr std::string_view name = "SameName";
  static constexpr auto fields = Fields{field("a", &SameNameB::a, "")};
};
template <>
struct Description<MergedAmount> {
  static constexpr std::string_view name = "MergedAmount";
  static constexpr auto fields = Fields{field("", &MergedAmount::length, "")};
};
template <>
struct Description<Nothing> {
  static constexpr std::string_view name = "Nothing";
  static constexpr auto fields = Fields<>{};
};
template <>
struct Description<Tree> {
  static constexpr std::string_view name = "Tree";
  static constexpr auto fields = Fields{field("branches", &Tree::branches, "")};
};

namespace json {
namespace {

TEST(JsonOut, SpellsEveryType) {
  const Json got = Json::parse(to_json(everything(), kUs));
  const std::vector<std::pair<const char*, Json>> wanted{
      {"length_m", 12.5},
      {"area_m2", 2.0},
      {"volume_m3", 3.0},
      {"margin_kg", 4.2},
      {"age_s", 600.0},
      {"spread_k", 2.2},
      {"speed_m_s", 3.6},
      {"density_kg_m3", 1.225},
      {"qnh_pa", 101800.0},
      {"energy_j", 5.0},
      {"power_w", 5.4e6},
      {"flow_kg_s", 0.02},
      {"latent_heat_j_kg", 344000.0},
      {"heat_flux_w_m2", 1000.0},
      {"lapse_k_m", -0.0065},
      {"altitude_amsl_m", 1500.0},
      {"height_agl_m", 150.0},
      {"pressure_altitude_m", 1480.0},
      {"density_altitude_m", 2225.0},
      {"geopotential_altitude_m", 1499.0},
      {"temperature_k", 301.15},
      {"gauge_pressure_pa", 434370.0},
      {"slope_deg", -12.5},
      {"from_true_deg", 215.0},
      {"heading_mag_deg", 202.0},
      {"wet", true},
      {"year", 2019},
      {"people", 4},
      {"chance", 0.1},
      {"name", "Ünïcode \"q\" \\ \n\t\x01"},
      {"paint", "green"},
      {"time", "2027-05-16T04:50:00-09:00"},
      {"seen", "2027-05-16T13:50:00Z"},
      {"due", "2026-05-20"},
      {"value", {{"si", 4.2}, {"unit", "kg"}, {"kind", "mass"}}},
      {"finding", "a latitude of 1,500 ft does not exist"},
      {"at", {{"latitude_deg", 38.9}, {"longitude_deg", -133.4}}},
      {"issue",
       {{"code", "bad_input"},
        {"file", "flight.toml"},
        {"line", 17},
        {"column", 3},
        {"key", "cylinder[1].tare"},
        {"message", "pilot"},
        {"got", "18"},
        {"wanted", "18kg"}}},
      {"mass_kg", 85.0},
      {"colour", "red"},
      {"weighed_kg", 46.0},
      {"not_weighed_kg", nullptr},
      {"other", {{"mass_kg", 1.0}, {"colour", nullptr}}},
      {"rungs_m", {1.0, 2.0}},
      {"parts", {{{"mass_kg", 1.0}, {"colour", "red"}}, {{"mass_kg", 2.0}, {"colour", nullptr}}}},
      {"rows", {{1.0, 2.0}, Json::array()}},
      {"temperatures_k", {280.0, nullptr}},
  };
  ASSERT_EQ(got.size(), wanted.size()) << got.dump(2);
  auto member = got.items().begin();
  for (const auto& [key, written] : wanted) {
    EXPECT_EQ(member.key(), key);
    EXPECT_EQ(member.value(), written) << key;
    ++member;
  }
}

TEST(JsonOut, WordsSentencesInTheReadersUnitsAndNothingElse) {
  const Json us = Json::parse(to_json(everything(), kUs));
  Json metric = Json::parse(to_json(everything(), kMetric));
  EXPECT_EQ(metric["finding"], "a latitude of 457 m does not exist");
  metric["finding"] = us["finding"];
  EXPECT_EQ(us, metric);
}

TEST(JsonOut, SaysTheSameInEitherLayout) {
  const std::string compact = to_json(everything(), kUs, Layout::compact);
  EXPECT_EQ(compact.find('\n'), std::string::npos);
  EXPECT_EQ(Json::parse(compact), Json::parse(to_json(everything(), kUs, Layout::indented)));
  EXPECT_EQ(to_json(Inner{2.5 * kilogram, std::nullopt}, kUs), "{\n  \"mass_kg\": 2.5,\n  \"colour\": null\n}");
  EXPECT_EQ(to_json(Inner{2.5 * kilogram, std::nullopt}, kUs, Layout::compact), "{\"mass_kg\":2.5,\"colour\":null}");
  EXPECT_EQ(to_json(Nothing{}, kUs), "{}");
  EXPECT_EQ(to_json(Tree{{{}, {}}}, kUs, Layout::compact), "{\"branches\":[{\"branches\":[]},{\"branches\":[]}]}");
}

TEST(JsonOut, RefusesANumberThatIsNotFinite) {
  for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    EXPECT_THROW((void)to_json(NotFinite{Mass::from_si(x)}, kUs), std::logic_error);
    EXPECT_THROW((void)number_text(x), std::logic_error);
  }
}

TEST(JsonOut, RefusesAnEnumeratorWithoutName) {
  EXPECT_THROW((void)to_json(Inner{1 * kilogram, static_cast<Colour>(7)}, kUs), std::logic_error);
}

TEST(JsonOut, RefusesToMergeWhatIsNoObject) {
  EXPECT_THROW((void)to_json(MergedAmount{}, kUs), std::logic_error);
  EXPECT_THROW((void)json_schema_of<MergedAmount>(), std::logic_error);
}

TEST(JsonNumber, ReadsBackAsTheSameDoubleAndIsTheShortest) {
  Random random = testing::seeded("JsonNumber.RoundTrip");
  for (int i = 0; i < 20'000; ++i) {
    double x = 0.0;
    switch (random.below(3)) {
      case 0: x = random.uniform(-1.0, 1.0) * std::exp(random.uniform(-700.0, 700.0)); break;
      case 1: x = std::round(random.uniform(-1e6, 1e6)) / 1000.0; break;
      default: x = std::round(random.uniform(-1e7, 1e7)); break;
    }
    const std::string text = number_text(x);
    ASSERT_EQ(std::strtod(text.c_str(), nullptr), x) << text;
    ASSERT_EQ(Json::parse(text).get<double>(), x) << text;
    const std::string mantissa = text.substr(0, text.find('e'));
    int digits = 0;  // significant ones: without leading noughts, and without trailing ones of a whole number
    int trailing = 0;
    for (const char c : mantissa) {
      if (c < '0' || c > '9' || (c == '0' && digits == 0)) continue;
      ++digits;
      trailing = c == '0' ? trailing + 1 : 0;
    }
    digits -= trailing;
    if (digits > 1) {
      char shorter[400];
      std::snprintf(shorter, sizeof shorter, "%.*g", digits - 1, x);
      ASSERT_NE(std::strtod(shorter, nullptr), x) << text << " " << shorter;
    }
  }
}

TEST(JsonNumber, HasNoOrnament) {
  EXPECT_EQ(number_text(0.1), "0.1");
  EXPECT_EQ(number_text(-0.0), "0");
  EXPECT_EQ(number_text(1500.0), "1500");
  EXPECT_EQ(number_text(0.1 + 0.2), "0.30000000000000004");
  for (const double x : {std::numeric_limits<double>::min(), std::numeric_limits<double>::denorm_min(),
                         std::numeric_limits<double>::max(), -std::numeric_limits<double>::max()})
    EXPECT_EQ(Json::parse(number_text(x)).get<double>(), x);
}

std::string written(std::string_view text) {
  JsonSink sink{Layout::compact};
  sink.text(text);
  return sink.finish();
}

TEST(JsonSink, WritesAnyTextAsValidJson) {
  EXPECT_EQ(written("a/b\x7f"), "\"a/b\x7f\"");
  EXPECT_EQ(written(std::string_view("\0\x1f", 2)), "\"\\u0000\\u001f\"");
  EXPECT_EQ(written("é€𝄞"), "\"é€𝄞\"");
  EXPECT_EQ(written("a\xff"), "\"a\xEF\xBF\xBD\"");
  Random random = testing::seeded("JsonSink.AnyText");
  constexpr unsigned char bytes[] = {0x00, 0x1f, '"',  '\\', 'a',  0x7f, 0x80, 0xbf, 0xc1, 0xc2, 0xdf, 0xe0,
                                     0xa0, 0xe2, 0x82, 0xac, 0xed, 0x9f, 0xf0, 0x90, 0xf4, 0x8f, 0xf5, 0xff};
  for (int i = 0; i < 5000; ++i) {
    std::string text;
    for (std::uint64_t n = random.below(8); n > 0; --n)
      text += static_cast<char>(bytes[static_cast<std::size_t>(random.below(sizeof bytes))]);
    const std::string json = written(text);
    ASSERT_TRUE(Json::accept(json)) << json;  // also refuses what is not UTF-8
    const bool was_whole = Json::accept(Json(text).dump(-1, ' ', false, Json::error_handler_t::replace)) &&
                           Json(text).dump(-1, ' ', false, Json::error_handler_t::ignore) ==
                               Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
    if (was_whole) {
      ASSERT_EQ(Json::parse(json).get<std::string>(), text);
    }
  }
}

TEST(JsonSink, RefusesCallsThatMakeNoJson) {
  const auto fails = [](auto&& calls) {
    JsonSink sink{Layout::compact};
    EXPECT_THROW(calls(sink), std::logic_error);
  };
  fails([](JsonSink& s) { (void)s.finish(); });
  fails([](JsonSink& s) { s.key("a"); });
  fails([](JsonSink& s) { s.begin_object(), s.null(); });
  fails([](JsonSink& s) { s.begin_object(), s.key("a"), s.key("b"); });
  fails([](JsonSink& s) { s.begin_object(), s.key("a"), s.end_object(); });
  fails([](JsonSink& s) { s.begin_object(), s.end_array(); });
  fails([](JsonSink& s) { s.begin_array(), s.key("a"); });
  fails([](JsonSink& s) { s.begin_array(), (void)s.finish(); });
  fails([](JsonSink& s) { s.null(), s.null(); });
  fails([](JsonSink& s) { s.end_object(); });
}

// A small judge of the parts of JSON Schema that are written here. It knows no keyword beyond them and says so.
class Judge {
 public:
  explicit Judge(const std::string& schema) : root_(Json::parse(schema)) {}
  /// Why `value` does not fit; empty where it does.
  std::string verdict(const Json& value) const { return judge(root_, value, "$"); }
  const Json& root() const { return root_; }

 private:
  std::string judge(const Json& schema, const Json& value, const std::string& path) const {
    for (const auto& [keyword, rule] : schema.items()) {
      std::string why;
      if (keyword == "$ref")
        why = judge(root_.at(Json::json_pointer(rule.get<std::string>().substr(1))), value, path);
      else if (keyword == "type")
        why = is(rule.get<std::string>(), value) ? "" : path + " is no " + rule.get<std::string>();
      else if (keyword == "enum")
        why = std::find(rule.begin(), rule.end(), value) != rule.end() ? "" : path + " is none of " + rule.dump();
      else if (keyword == "anyOf")
        why = any_of(rule, value, path);
      else if (keyword == "items")
        for (std::size_t i = 0; i < value.size() && why.empty(); ++i)
          why = judge(rule, value[i], path + "[" + std::to_string(i) + "]");
      else if (keyword == "properties")
        for (const auto& [key, member] : value.items()) {
          if (!rule.contains(key)) return path + " has an unknown " + key;
          why = judge(rule.at(key), member, path + "." + key);
          if (!why.empty()) return why;
        }
      else if (keyword == "required")
        for (const Json& key : rule) {
          if (!value.contains(key.get<std::string>())) return path + " lacks " + key.dump();
        }
      else if (keyword == "additionalProperties")
        why = rule == Json(false) ? "" : path + ": others allowed";
      else if (keyword != "$schema" && keyword != "$defs" && keyword != "description" && keyword != "format")
        why = path + ": keyword " + keyword + " is not known";
      if (!why.empty()) return why;
    }
    return {};
  }
  std::string any_of(const Json& rules, const Json& value, const std::string& path) const {
    std::string all;
    for (const Json& rule : rules) {
      const std::string why = judge(rule, value, path);
      if (why.empty()) return {};
      all += why + "; ";
    }
    return all;
  }
  static bool is(const std::string& type, const Json& value) {
    if (type == "number") return value.is_number();
    if (type == "integer") return value.is_number_integer();
    if (type == "string") return value.is_string();
    if (type == "boolean") return value.is_boolean();
    if (type == "null") return value.is_null();
    if (type == "array") return value.is_array();
    return type == "object" && value.is_object();
  }
  Json root_;
};

TEST(JsonSchema, FitsAValueOfEveryTypeAndNoOther) {
  const Judge judge{json_schema_of<Everything>()};
  const Json good = Json::parse(to_json(everything(), kUs));
  EXPECT_EQ(judge.verdict(good), "");
  for (const auto& [key, value] : good.items()) {
    Json lacking = good;
    lacking.erase(key);
    EXPECT_NE(judge.verdict(lacking), "") << key;
    Json other = good;
    other[key] = Json{{"nothing", "like it"}};
    EXPECT_NE(judge.verdict(other), "") << key;
  }
  Json surplus = good;
  surplus["more"] = 1;
  EXPECT_NE(judge.verdict(surplus), "");
}

TEST(JsonSchema, CarriesDescriptionsReferencesAndNames) {
  const Json schema = Json::parse(json_schema_of<sheet::Limit>());
  EXPECT_EQ(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
  EXPECT_EQ(schema["$ref"], "#/$defs/Limit");
  const Json& limit = schema["$defs"]["Limit"];
  EXPECT_EQ(limit["additionalProperties"], false);
  EXPECT_EQ(limit["properties"]["state"], (Json{{"description", "where the value stands against the bound"},
                                                {"type", "string"},
                                                {"enum", {"inside", "near", "outside", "not_known"}}}));
  EXPECT_EQ(limit["properties"]["value"], (Json{{"description", "the value, in SI"},
                                                {"anyOf", {{{"$ref", "#/$defs/Measure"}}, {{"type", "null"}}}}}));
  std::vector<std::string> bound;
  for (const auto& [key, value] : schema["$defs"]["Bound"]["properties"].items()) bound.push_back(key);
  EXPECT_EQ(bound, (std::vector<std::string>{"si", "unit", "kind", "side"}));
  EXPECT_EQ(limit["properties"].size(), limit["required"].size());
}

TEST(JsonSchema, DescribesAStructThatHoldsItself) {
  const Judge judge{json_schema_of<Tree>()};
  EXPECT_EQ(judge.root()["$defs"].size(), 1u);
  EXPECT_EQ(judge.verdict(Json::parse(to_json(Tree{{{}, {}}}, kUs))), "");
  EXPECT_NE(judge.verdict(Json::parse(R"({"branches": [{"leaves": []}]})")), "");
}

TEST(JsonSchema, RefusesOneKeyTwiceAndOneNameForTwoStructs) {
  EXPECT_THROW((void)json_schema_of<Twice>(), std::logic_error);
  EXPECT_THROW((void)json_schema_of<SameNameB>(), std::logic_error);
}

template <class T>
std::optional<T> perhaps(Random& random, T value) {
  return random.below(2) == 0 ? std::nullopt : std::optional<T>{std::move(value)};
}

template <class E>
E any_of(Random& random) {
  return Names<E>::all[static_cast<std::size_t>(random.below(Names<E>::all.size()))].first;
}

Measure any_measure(Random& random) {
  const auto kinds = static_cast<std::uint64_t>(MeasureKind::specific_energy) + 1;
  return {random.uniform(-1e5, 1e5), static_cast<MeasureKind>(random.below(kinds))};
}

sheet::Limit any_limit(Random& random) {
  sheet::Limit limit;
  limit.name = "surface_wind";
  limit.state = any_of<sheet::LimitState>(random);
  limit.kind = any_of<sheet::LimitKind>(random);
  limit.value = perhaps(random, any_measure(random));
  limit.near_bound = perhaps(random, sheet::Bound{any_measure(random), any_of<sheet::Side>(random)});
  limit.bound = perhaps(random, sheet::Bound{any_measure(random), any_of<sheet::Side>(random)});
  limit.source = {any_of<sheet::Authority>(random), "own minimum"};
  limit.age = perhaps(random, random.uniform(0, 1e5) * second);
  limit.finding = say("word.pilot");
  limit.remedy = perhaps(random, say("issue.latitude_range", {{"got", any_measure(random)}}));
  limit.accepted = perhaps(random, sheet::Acceptance{"seen \"it\"", *parse_moment("2027-05-16T04:50:00-09:00")});
  limit.notes.resize(static_cast<std::size_t>(random.below(3)), say("word.pilot"));
  return limit;
}

// Law: whatever is in a struct, its JSON fits its schema, and every key of the schema is written.
TEST(JsonSchema, FitsEveryLimit) {
  const Judge judge{json_schema_of<sheet::Limit>()};
  Random random = testing::seeded("JsonSchema.FitsEveryLimit");
  std::set<std::string> seen;
  for (int i = 0; i < 300; ++i) {
    const Json json = Json::parse(to_json(any_limit(random), i % 2 == 0 ? kUs : kMetric));
    ASSERT_EQ(judge.verdict(json), "") << json.dump(2);
    for (const auto& [key, value] : json.items())
      if (!value.is_null()) seen.insert(key);
  }
  std::set<std::string> named;
  for (const auto& [key, value] : judge.root()["$defs"]["Limit"]["properties"].items()) named.insert(key);
  EXPECT_EQ(seen, named);
}

TEST(JsonOut, WritesALimitAsTheSheetPromises) {
  sheet::Limit limit;
  limit.name = "surface_wind";
  limit.state = sheet::LimitState::near;
  limit.value = measure::wind(4.0 * metre_per_second);
  limit.bound = sheet::Bound{measure::wind(5.0 * metre_per_second), sheet::Side::at_most};
  limit.source = {sheet::Authority::own_minimum, "own minimum"};
  limit.age = 10 * minute;
  limit.finding = say("word.pilot");
  const Json json = Json::parse(to_json(limit, kUs));
  EXPECT_EQ(json["state"], "near");
  EXPECT_EQ(json["kind"], "must");
  EXPECT_EQ(json["value"], (Json{{"si", 4.0}, {"unit", "m/s"}, {"kind", "speed_wind"}}));
  EXPECT_EQ(json["bound"], (Json{{"si", 5.0}, {"unit", "m/s"}, {"kind", "speed_wind"}, {"side", "at_most"}}));
  EXPECT_EQ(json["source"], (Json{{"kind", "own_minimum"}, {"name", "own minimum"}}));
  EXPECT_EQ(json["age_s"], 600.0);
  EXPECT_TRUE(json["accepted"].is_null());
}

}  // namespace
}  // namespace json
}  // namespace pappus
