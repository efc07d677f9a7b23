#include "core/wind/by_eye.hpp"

#include <cstddef>

namespace pappus::wind {
namespace {

// In the order of EyeSign.
constexpr std::array<EyeWind, 7> kSigns{{
    {EyeSign::smoke_leans, 2.0 * mile_per_hour, 3.0 * mile_per_hour},
    {EyeSign::leaves, 4.0 * mile_per_hour, 5.0 * mile_per_hour},
    {EyeSign::flags, 7.0 * mile_per_hour, 8.0 * mile_per_hour},
    {EyeSign::fabric_ripples, 8.0 * mile_per_hour, 8.0 * mile_per_hour},
    {EyeSign::throat_bubbles, 10.0 * mile_per_hour, 12.0 * mile_per_hour},
    {EyeSign::dust, 12.0 * mile_per_hour, 12.0 * mile_per_hour},
    {EyeSign::wires_sing, 20.0 * mile_per_hour, 20.0 * mile_per_hour},
}};

}  // namespace

std::span<const EyeWind> winds_by_eye() { return kSigns; }

EyeWind wind_by_eye(EyeSign sign) { return kSigns[static_cast<std::size_t>(sign)]; }

}  // namespace pappus::wind
