#include "desk/hop.hpp"

#include <algorithm>
#include <utility>

#include "core/base/nearest.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::desk {
namespace {

std::string listed(const std::vector<std::string_view>& names) {
  std::string out;
  for (const std::string_view name : names) out += (out.empty() ? "" : ", ") + std::string(name);
  return out;
}

// The nearest right one first, then all.
std::string wanted_of(std::string_view written, const std::vector<std::string_view>& known) {
  const std::string_view near = nearest(written, known);
  return near.empty() ? "one of " + listed(known) : std::string(near) + " (one of " + listed(known) + ")";
}

tl::unexpected<Issue> refused(std::string key, Errc code, Sentence sentence, std::string got, std::string wanted) {
  return tl::unexpected<Issue>{
      Issue{code, std::move(sentence), Where{{}, 0, 0, std::move(key)}, std::move(got), std::move(wanted)}};
}

// In the unit in which it was probably written.
std::string shortest(Volume volume) {
  std::string best;
  for (const std::string_view unit : text::units_of(text::Dimension::volume)) {
    std::string text = text::print_si(volume.in(cubic_metre), text::Dimension::volume, unit);
    if (best.empty() || text.size() < best.size()) best = std::move(text);
  }
  return best;
}

// What a person is called by: the name, or for who has none, the role.
std::string_view called(const people::Person& person) {
  return person.name.empty() ? name_of(person.role) : std::string_view{person.name};
}

Result<void> leave(const std::string& name, std::vector<people::Person>& aboard) {
  const auto is_it = [&](const people::Person& p) { return called(p) == name; };
  const auto count = std::count_if(aboard.begin(), aboard.end(), is_it);
  if (count == 1) {
    aboard.erase(std::find_if(aboard.begin(), aboard.end(), is_it));
    return {};
  }
  std::vector<std::string_view> known;
  for (const people::Person& p : aboard) known.push_back(called(p));
  if (count == 0)
    return refused("left", Errc::not_found, say("issue.hop_nobody"), text::excerpt(name), wanted_of(name, known));
  return refused("left", Errc::conflict, say("issue.hop_several"), text::excerpt(name), "one who has that name alone");
}

Result<void> fill(const Hop& hop, sheet::Morning& morning) {
  const std::vector<balloon::Cylinder>& cylinders = morning.balloon.cylinders;
  std::vector<std::string_view> ids;
  for (const balloon::Cylinder& c : cylinders) ids.emplace_back(c.id);
  std::vector<sheet::FuelSeen> before = std::move(morning.flight.fuel);
  std::vector<sheet::FuelSeen> now;
  for (const FuelNow& fuel : hop.fuel) {
    const auto at = std::find(ids.begin(), ids.end(), fuel.cylinder);
    if (at == ids.end())
      return refused("fuel", Errc::not_found, say("issue.hop_cylinder"), text::excerpt(fuel.cylinder),
                     wanted_of(fuel.cylinder, ids));
    if (std::any_of(now.begin(), now.end(), [&](const sheet::FuelSeen& f) { return f.cylinder == fuel.cylinder; }))
      return refused("fuel", Errc::conflict, say("issue.hop_fuel_double"), fuel.cylinder, "each cylinder once");
    const Volume shell = cylinders[static_cast<std::size_t>(at - ids.begin())].shell;
    if (fuel.liquid > shell)
      return refused("fuel", Errc::conflict, say("issue.hop_over_shell"), shortest(fuel.liquid),
                     "at most the shell, " + shortest(shell));
    sheet::FuelSeen seen{fuel.cylinder, fuel.liquid, fuel.temperature, morning.as_of};
    if (!fuel.temperature)
      for (const sheet::FuelSeen& old : before)
        if (old.cylinder == fuel.cylinder) {
          seen.temperature = old.temperature;
          if (old.temperature) seen.seen = old.seen;
        }
    now.push_back(std::move(seen));
  }
  // What is not named was drawn from before, and nobody has looked since.
  morning.flight.fuel = std::move(now);
  return {};
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    if (end > 0) out.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

bool within(Mass mass, Mass low, Mass high) { return mass >= low && mass <= high; }

}  // namespace

Result<sheet::Morning> apply(const Hop& hop, sheet::Morning morning, bool present_given) {
  sheet::Flight& flight = morning.flight;
  for (const std::string& name : hop.left)
    if (auto ok = leave(name, flight.aboard); !ok) return tl::unexpected{ok.error()};
  flight.aboard.insert(flight.aboard.end(), hop.came.begin(), hop.came.end());
  const auto pilots = std::count_if(flight.aboard.begin(), flight.aboard.end(),
                                    [](const people::Person& p) { return p.role == people::Role::pilot; });
  if (pilots != 1)
    return refused("aboard", Errc::bad_input, say(pilots == 0 ? "issue.aboard_no_pilot" : "issue.aboard_pilots"), {},
                   "exactly one aboard with role pilot: the pilot in command");
  if (hop.time) flight.time = *hop.time;
  if (hop.planned) flight.planned = *hop.planned;
  if (hop.hot) flight.hot = true;
  if (!present_given && hop.time && hop.time->at > morning.as_of.at) morning.as_of = *hop.time;
  if (hop.hot || !hop.fuel.empty())
    if (auto ok = fill(hop, morning); !ok) return tl::unexpected{ok.error()};
  return morning;
}

Result<people::Person> parse_person(std::string_view text) {
  const auto wrong = [&] {
    return fail(Errc::bad_input, say("issue.hop_came"), text::excerpt(text),
                "a role, a name if you like, and a mass, such as \"passenger 80kg\" or \"passenger Ida 64kg weighed "
                "bags 2kg\"");
  };
  const std::vector<std::string_view> words = words_of(text);
  if (words.size() < 2) return wrong();
  const auto role = named<people::Role>(words.front());
  if (!role) return wrong();
  people::Person person;
  person.role = *role;
  std::size_t i = 1;
  for (; i < words.size(); ++i) {
    const bool is_number = words[i].find_first_of("0123456789") == 0;
    if (is_number) break;
    person.name += (person.name.empty() ? "" : " ") + std::string(words[i]);
  }
  if (i == words.size()) return wrong();
  const auto mass = text::parse_mass(words[i++]);
  if (!mass) return tl::unexpected{mass.error()};
  if (!within(*mass, 15.0 * kilogram, 250.0 * kilogram))
    return fail(Errc::bad_input, say("issue.aboard_mass"), std::string(words[i - 1]), "15kg to 250kg");
  person.mass = *mass;
  for (; i < words.size(); ++i) {
    if (const auto basis = named<people::MassBasis>(words[i])) {
      person.basis = *basis;
      continue;
    }
    if (words[i] != "bags" || ++i == words.size()) return wrong();
    const auto bags = text::parse_mass(words[i]);
    if (!bags) return tl::unexpected{bags.error()};
    if (!within(*bags, Mass{}, 100.0 * kilogram))
      return fail(Errc::bad_input, say("issue.aboard_bags"), std::string(words[i]), "0kg to 100kg");
    person.bags = *bags;
  }
  return person;
}

Result<FuelNow> parse_fuel_now(std::string_view text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos || equals == 0)
    return fail(Errc::bad_input, say("issue.hop_fuel"), text::excerpt(text),
                "a cylinder and what is in it, such as 1=9gal or 1=9gal,4C");
  FuelNow out;
  out.cylinder = std::string(text.substr(0, equals));
  std::string_view rest = text.substr(equals + 1);
  const std::size_t comma = rest.find(',');
  const auto liquid = text::parse_volume(rest.substr(0, comma));
  if (!liquid) return tl::unexpected{liquid.error()};
  out.liquid = *liquid;
  if (comma == std::string_view::npos) return out;
  const auto temperature = text::parse_temperature(rest.substr(comma + 1));
  if (!temperature) return tl::unexpected{temperature.error()};
  out.temperature = *temperature;
  return out;
}

}  // namespace pappus::desk
