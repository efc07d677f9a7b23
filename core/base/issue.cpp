#include "core/base/issue.hpp"

namespace pappus {

std::string_view name_of(Errc code) {
  switch (code) {
    case Errc::bad_call: return "bad_call";
    case Errc::bad_input: return "bad_input";
    case Errc::not_found: return "not_found";
    case Errc::conflict: return "conflict";
    case Errc::out_of_range: return "out_of_range";
    case Errc::no_data: return "no_data";
    case Errc::machine_failed: return "machine_failed";
    case Errc::cancelled: return "cancelled";
  }
  return "machine_failed";
}

int exit_status(Errc code) {
  switch (code) {
    case Errc::bad_call: return 2;
    case Errc::bad_input:
    case Errc::not_found:
    case Errc::conflict: return 3;
    case Errc::out_of_range:
    case Errc::no_data: return 4;
    case Errc::machine_failed: return 5;
    case Errc::cancelled: return 130;
  }
  return 5;
}

}  // namespace pappus
