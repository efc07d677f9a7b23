// The round about a balloon: its steps, each with its reader.
#include <algorithm>
#include <array>

#include "desk/ask.hpp"
#include "desk/typed.hpp"
#include "formats/text/pilot/balloon_file.hpp"
#include "formats/text/pilot/balloon_write.hpp"

namespace pappus::desk {
namespace {

using balloon::Balloon;
using text::Dimension;

// Limits come last: a gross limit is held against all that the balloon weighs.
enum Step {
  name,
  volume,
  envelope,
  basket,
  burners,
  burner_pressure,
  cylinders,
  groups,
  kit,
  crown_limit,
  launch_wind_limit,
  gross_limit,
  count
};
static_assert(count <= kMostQuestions);

constexpr std::array<std::string_view, count> kKeys{"name",    "volume",          "envelope",          "basket",
                                                    "burners", "burner_pressure", "cylinders",         "groups",
                                                    "kit",     "crown_limit",     "launch_wind_limit", "gross_limit"};

constexpr std::string_view kNotKnown = "-";

// The least that a file may hold stands in for what is not said yet, so that no limit is broken by it.
Balloon stand_in() {
  Balloon out;
  out.name = "-";
  out.envelope.volume = 2000.0 * cubic_metre;
  out.envelope.mass = 5.0 * kilogram;
  out.basket.mass = kilogram;
  out.burners.resize(1);
  out.burners.front().mass = kilogram;
  balloon::Cylinder cylinder;
  cylinder.id = cylinder.group = "1";
  cylinder.shell = cylinder.level_fill = 60.0 * litre;
  cylinder.tare = kilogram;
  out.cylinders = {cylinder};
  return out;
}

tl::unexpected<Issue> wrong(std::string_view key, std::string_view got, std::string_view wanted) {
  return fail(Errc::bad_input, say(std::string(key)), text::excerpt(got), std::string(wanted));
}

struct Units {
  std::string_view mass, liquid, gas;
};
constexpr Units kUs{"lb", "gal", "ft3"}, kMetric{"kg", "L", "m3"};

Result<Mass> mass_of(std::string_view typed, const Units& units) {
  return in_unit_or(typed, Dimension::mass, units.mass).map([](double kg) { return kg * kilogram; });
}

// "86kg 5": mass, and for how many people it is made.
Result<Balloon> with_basket(Balloon b, const std::vector<std::string>& words, const Units& units,
                            std::string_view wanted) {
  if (words.empty() || words.size() > 2) return wrong("issue.ask_basket", {}, wanted);
  const auto mass = mass_of(words.front(), units);
  if (!mass) return tl::unexpected{mass.error()};
  b.basket.mass = *mass;
  b.basket.people.reset();
  if (words.size() == 1) return b;
  const auto people = text::parse_number(words.back());
  if (!people || *people != static_cast<int>(*people)) return wrong("issue.ask_basket", words.back(), wanted);
  b.basket.people = static_cast<int>(*people);
  return b;
}

// A mass for each burner; those that were there keep what else is known of them.
Result<Balloon> with_burners(Balloon b, const std::vector<std::string>& words, const Units& units) {
  const balloon::Burner like = b.burners.empty() ? balloon::Burner{} : b.burners.back();
  const std::size_t known = b.burners.size();
  b.burners.resize(words.size(), like);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto mass = mass_of(words[i], units);
    if (!mass) return tl::unexpected{mass.error()};
    b.burners[i].mass = *mass;
    if (i >= known) b.burners[i].quiet = false;
  }
  return b;
}

// "50-150psi", "50psi 150psi".
Result<Balloon> with_burner_pressure(Balloon b, std::string_view typed, std::string_view wanted) {
  std::string text{typed};
  std::replace(text.begin(), text.end(), '-', ' ');
  std::vector<std::string> words = words_of(text);
  words.erase(std::remove(words.begin(), words.end(), "to"), words.end());
  if (words.size() != 2) return wrong("issue.ask_pressure_range", typed, wanted);
  const auto high = text::parse_fuel_pressure(words[1]);
  if (!high) return tl::unexpected{high.error()};
  // The unit behind the second number is meant for both.
  const std::string unit = words[1].substr(words[1].find_first_not_of("0123456789. "));
  const auto low = in_unit_or(words[0], Dimension::fuel_pressure, unit);
  if (!low) return tl::unexpected{low.error()};
  for (balloon::Burner& burner : b.burners)
    burner.pressure = balloon::PressureRange{GaugePressure::at(*low * pascal), *high};
  return b;
}

// "2x 22.5gal 18gal 20kg 5%": how many alike, shell, level fill, tare, and what stays behind.
Result<Balloon> with_cylinders(Balloon b, std::string_view typed, const Units& units, std::string_view wanted) {
  const std::vector<balloon::Cylinder> before = b.cylinders;
  b.cylinders.clear();
  for (const std::string_view line : lines_of(typed)) {
    std::vector<std::string> words = words_of(line);
    if (words.empty()) return wrong("issue.ask_cylinder", line, wanted);  // commas alone
    std::size_t alike = 1;
    if (words.front().size() == 2 && words.front()[1] == 'x' && words.front()[0] > '0' && words.front()[0] <= '9') {
      alike = static_cast<std::size_t>(words.front()[0] - '0');
      words.erase(words.begin());
    }
    if (words.size() != 3 && words.size() != 4) return wrong("issue.ask_cylinder", line, wanted);
    const auto shell = in_unit_or(words[0], Dimension::volume, units.liquid);
    if (!shell) return tl::unexpected{shell.error()};
    const auto fill = in_unit_or(words[1], Dimension::volume, units.liquid);
    if (!fill) return tl::unexpected{fill.error()};
    const auto tare = mass_of(words[2], units);
    if (!tare) return tl::unexpected{tare.error()};
    std::optional<double> usable_to;
    if (words.size() == 4) {
      const auto fraction = in_unit_or(words[3], Dimension::percent, "%");
      if (!fraction) return tl::unexpected{fraction.error()};
      usable_to = *fraction;
    }
    for (std::size_t i = 0; i < alike; ++i) {
      const std::size_t index = b.cylinders.size();
      balloon::Cylinder cylinder;
      cylinder.id = std::to_string(index + 1);
      cylinder.group = cylinder.id;
      if (index < before.size()) cylinder = before[index];
      cylinder.shell = *shell * cubic_metre;
      cylinder.level_fill = *fill * cubic_metre;
      cylinder.tare = *tare;
      if (usable_to) cylinder.usable_to = *usable_to;
      b.cylinders.push_back(std::move(cylinder));
    }
  }
  return b;
}

// "1+2 3": those joined with + share a manifold.
Result<Balloon> with_groups(Balloon b, std::string_view typed, std::string_view wanted) {
  std::vector<std::string> left;
  for (const balloon::Cylinder& cylinder : b.cylinders) left.push_back(cylinder.id);
  char letter = 'A';
  for (const std::string& side : words_of(typed)) {
    for (const std::string_view id : parts_of(side, '+')) {
      const auto found = std::find(left.begin(), left.end(), id);
      if (found == left.end()) return wrong("issue.ask_groups", id, wanted);
      left.erase(found);
      for (balloon::Cylinder& cylinder : b.cylinders)
        if (cylinder.id == id) cylinder.group = std::string(1, letter);
    }
    ++letter;
  }
  for (balloon::Cylinder& cylinder : b.cylinders)
    if (std::find(left.begin(), left.end(), cylinder.id) != left.end()) cylinder.group = std::string(1, letter++);
  return b;
}

// "scoop 5kg, ropes 8kg".
Result<Balloon> with_kit(Balloon b, std::string_view typed, const Units& units, std::string_view wanted) {
  b.kit.clear();
  if (trimmed(typed) == kNotKnown) return b;
  for (const std::string_view part : parts_of(typed, ',')) {
    const std::vector<std::string> words = words_of(part);
    if (words.size() < 2) return wrong("issue.ask_kit", part, wanted);
    balloon::Kit kit;
    for (std::size_t i = 0; i + 1 < words.size(); ++i) kit.what += (i > 0 ? " " : "") + words[i];
    const auto mass = mass_of(words.back(), units);
    if (!mass) return tl::unexpected{mass.error()};
    kit.mass = *mass;
    b.kit.push_back(std::move(kit));
  }
  return b;
}

// ---- what is remembered, as it would be typed

std::string group_text(const Balloon& b) {
  std::vector<std::pair<std::string, std::string>> sides;
  for (const balloon::Cylinder& cylinder : b.cylinders) {
    const auto side =
        std::find_if(sides.begin(), sides.end(), [&](const auto& s) { return s.first == cylinder.group; });
    if (side == sides.end())
      sides.emplace_back(cylinder.group, cylinder.id);
    else
      side->second += "+" + cylinder.id;
  }
  std::string out;
  for (const auto& side : sides) out += (out.empty() ? "" : " ") + side.second;
  return out;
}

std::string remembered_text(const Balloon& b, int step, text::Taste taste) {
  const auto quantity = [&](double si, Dimension dimension) { return text::toml_quantity(si, dimension, taste); };
  const auto mass = [&](Mass m) { return quantity(m.in(kilogram), Dimension::mass); };
  const auto listed = [](std::string& out, const std::string& item, const char* mark) {
    out += (out.empty() ? "" : mark) + item;
  };
  std::string out;
  switch (step) {
    case name: return b.name;
    case volume: return quantity(b.envelope.volume.in(cubic_metre), Dimension::volume);
    case envelope: return mass(b.envelope.mass);
    case basket: return mass(b.basket.mass) + (b.basket.people ? " " + std::to_string(*b.basket.people) : "");
    case burners:
      for (const balloon::Burner& burner : b.burners) listed(out, mass(burner.mass), " ");
      return out;
    case burner_pressure:
      if (b.burners.empty() || !b.burners.front().pressure) return {};
      return quantity(b.burners.front().pressure->low.from_origin().in(pascal), Dimension::fuel_pressure) + " " +
             quantity(b.burners.front().pressure->high.from_origin().in(pascal), Dimension::fuel_pressure);
    case cylinders:
      for (const balloon::Cylinder& c : b.cylinders)
        listed(out,
               quantity(c.shell.in(cubic_metre), Dimension::volume) + " " +
                   quantity(c.level_fill.in(cubic_metre), Dimension::volume) + " " + mass(c.tare) +
                   (c.usable_to > 0.0 ? " " + quantity(c.usable_to, Dimension::percent) : ""),
               "; ");
      return out;
    case groups: return group_text(b);
    case kit:
      for (const balloon::Kit& k : b.kit) listed(out, k.what + " " + mass(k.mass), ", ");
      return out;
    case crown_limit:
      return b.envelope.crown_limit ? quantity(b.envelope.crown_limit->from_origin().in(kelvin), Dimension::temperature)
                                    : out;
    case launch_wind_limit:
      return b.envelope.launch_wind_limit
                 ? quantity(b.envelope.launch_wind_limit->in(metre_per_second), Dimension::speed)
                 : out;
    case gross_limit: return b.envelope.gross_limit ? mass(*b.envelope.gross_limit) : out;
    default: return out;
  }
}

}  // namespace

BalloonRound::BalloonRound(BalloonRoundInputs inputs) : inputs_{std::move(inputs)} {
  draft_.balloon = inputs_.last ? *inputs_.last : stand_in();
}

std::string BalloonRound::file() const { return text::write_balloon(draft_.balloon, taste()); }

int BalloonRound::steps() const { return count; }

// One cylinder stands alone whatever is said.
bool BalloonRound::is_asked(int step) const { return step != groups || draft_.balloon.cylinders.size() > 1; }

Prompt BalloonRound::prompt(int step) const {
  Prompt out;
  out.key = kKeys[static_cast<std::size_t>(step)];
  const bool us = is_us();
  switch (step) {
    case name: out.question = say("ask.balloon_name"); break;
    case volume: out.question = say(us ? "ask.balloon_volume_us" : "ask.balloon_volume_metric"); break;
    case envelope: out.question = say(us ? "ask.balloon_envelope_us" : "ask.balloon_envelope_metric"); break;
    case basket: out.question = say(us ? "ask.balloon_basket_us" : "ask.balloon_basket_metric"); break;
    case burners: out.question = say(us ? "ask.balloon_burners_us" : "ask.balloon_burners_metric"); break;
    case burner_pressure: out.question = say(us ? "ask.balloon_pressure_us" : "ask.balloon_pressure_metric"); break;
    case cylinders: out.question = say(us ? "ask.balloon_cylinders_us" : "ask.balloon_cylinders_metric"); break;
    case groups: out.question = say("ask.balloon_groups"); break;
    case kit: out.question = say(us ? "ask.balloon_kit_us" : "ask.balloon_kit_metric"); break;
    case crown_limit: out.question = say(us ? "ask.balloon_crown_us" : "ask.balloon_crown_metric"); break;
    case launch_wind_limit: out.question = say("ask.balloon_launch_wind"); break;
    case gross_limit: out.question = say(us ? "ask.balloon_gross_us" : "ask.balloon_gross_metric"); break;
    default: break;
  }
  out.several_lines = step == cylinders;
  out.may_stay_blank = step == burner_pressure || step >= groups;
  if (inputs_.last) {
    std::string text = remembered_text(*inputs_.last, step, taste());
    if (!text.empty()) out.remembered = std::move(text);
  }
  return out;
}

std::string BalloonRound::example(int step) const {
  switch (step) {
    case name: return "Lantern";
    case volume: return is_us() ? "105000ft3" : "3000m3";
    case envelope: return is_us() ? "260lb" : "118kg";
    case basket: return is_us() ? "190lb 5" : "86kg 5";
    case burners: return is_us() ? "31lb 31lb" : "14kg 14kg";
    case burner_pressure: return is_us() ? "50-150psi" : "3.5-10bar";
    case cylinders: return is_us() ? "3x 22.5gal 18gal 44lb" : "3x 85L 68L 20kg";
    case groups: return "1+2 3";
    case kit: return is_us() ? "scoop 11lb, ropes 18lb" : "scoop 5kg, ropes 8kg";
    default: return {};
  }
}

Heard BalloonRound::read(int step, std::string_view typed) {
  const Units& units = is_us() ? kUs : kMetric;
  // An empty answer of several lines leaves what is remembered.
  if (trimmed(typed).empty()) return {true};
  Balloon b = draft_.balloon;
  const std::string wanted = example(step);
  const bool unknown = trimmed(typed) == kNotKnown;
  Result<Balloon> said = b;
  switch (step) {
    case name: said->name = trimmed(typed); break;
    case volume:
      said = in_unit_or(typed, Dimension::volume, units.gas).map([&](double v) {
        b.envelope.volume = v * cubic_metre;
        return b;
      });
      break;
    case envelope:
      said = mass_of(typed, units).map([&](Mass m) {
        b.envelope.mass = m;
        return b;
      });
      break;
    case basket: said = with_basket(std::move(b), words_of(typed), units, wanted); break;
    case burners: said = with_burners(std::move(b), words_of(typed), units); break;
    case burner_pressure:
      if (unknown)
        for (balloon::Burner& burner : said->burners) burner.pressure.reset();
      else
        said = with_burner_pressure(std::move(b), typed, wanted);
      break;
    case cylinders: said = with_cylinders(std::move(b), typed, units, wanted); break;
    case groups: said = with_groups(std::move(b), typed, wanted); break;
    case kit: said = with_kit(std::move(b), typed, units, wanted); break;
    case crown_limit:
      said->envelope.crown_limit.reset();
      if (!unknown)
        said = in_unit_or(typed, Dimension::temperature, is_us() ? "F" : "C").map([&](double t) {
          b.envelope.crown_limit = Temperature::at(t * kelvin);
          return b;
        });
      break;
    case launch_wind_limit:
      said->envelope.launch_wind_limit.reset();
      if (!unknown)
        said = in_unit_or(typed, Dimension::speed, "kt").map([&](double v) {
          b.envelope.launch_wind_limit = v * metre_per_second;
          return b;
        });
      break;
    case gross_limit:
      said->envelope.gross_limit.reset();
      if (!unknown)
        said = mass_of(typed, units).map([&](Mass m) {
          b.envelope.gross_limit = m;
          return b;
        });
      break;
    default: break;
  }
  if (said) return take(*std::move(said));
  Heard out;
  out.issues.push_back(said.error());
  return out;
}

Heard BalloonRound::take(Balloon balloon) {
  Heard out;
  out.issues = text::parse_balloon(text::write_balloon(balloon, taste()), {}).issues;
  // The place is in a file that nobody has seen.
  for (Issue& issue : out.issues) issue.where = {};
  if (!out.issues.empty()) return out;
  draft_.balloon = std::move(balloon);
  out.taken = true;
  return out;
}

}  // namespace pappus::desk
