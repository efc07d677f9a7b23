/// A second hop from the same morning: who left, who came, the fuel now, the burner hot.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/people/aboard.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::desk {

/// What a gauge or a dip says of one cylinder between two hops.
struct FuelNow {
  std::string cylinder;
  Volume liquid;
  std::optional<Temperature> temperature;  // of the liquid, where it was measured again
};

struct Hop {
  std::vector<std::string> left;  // names; for who has none, the role
  std::vector<people::Person> came;
  std::vector<FuelNow> fuel;
  std::optional<Moment> time;  // of the next lift-off
  std::optional<Duration> planned;
  bool hot = false;  // the envelope stands hot: no inflation
  [[nodiscard]] bool is_none() const {
    return left.empty() && came.empty() && fuel.empty() && !time && !planned && !hot;
  }
};

/// The morning of the next hop.
///
/// Fuel      once fuel is given, or the envelope is hot, the flight before has burnt some: a cylinder that is not named
///           then is not known. Without a new temperature the old one stands, with its age.
/// Present   stays what it is, and where the lift-off is put later than the present, it moves there unless
///           `present_given`: what was seen for the first hop is that much older on the next.
/// Errors    Errc::not_found "issue.hop_nobody" and "issue.hop_cylinder" with the nearest right name;
///           Errc::conflict "issue.hop_several" for a role that several have, "issue.hop_fuel_double",
///           "issue.hop_over_shell"; Errc::bad_input "issue.aboard_no_pilot", "issue.aboard_pilots".
/// Laws      a hop of nothing changes nothing; who came and left again leaves the load as it was.
[[nodiscard]] Result<sheet::Morning> apply(const Hop& hop, sheet::Morning morning, bool present_given = false);

/// "passenger 80kg", "passenger Ida 64kg", "student Ida Holm 71kg weighed bags 2kg".
/// Errors    Errc::bad_input "issue.hop_came", and those of the masses; out of 15 to 250 kg "issue.aboard_mass", bags
///           out of 0 to 100 kg "issue.aboard_bags".
[[nodiscard]] Result<people::Person> parse_person(std::string_view text);
/// "1=9gal", "1=9gal,4C".
/// Errors    Errc::bad_input "issue.hop_fuel", and those of the quantities.
[[nodiscard]] Result<FuelNow> parse_fuel_now(std::string_view text);

}  // namespace pappus::desk
