// The dates of balloon, cylinders and pilot: not checked by this version, and so never shown as inside.
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit dates(const Facts&) {
  Limit limit;
  limit.name = "dates";
  limit.kind = LimitKind::look;
  limit.source = {Authority::law, {}};
  limit.finding = say("limit.dates.not_checked");
  limit.remedy = say("limit.dates.look");
  return limit;
}

}  // namespace pappus::sheet::limits
