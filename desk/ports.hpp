/// What the use cases need from the machine they run on. Faces wire these up; nothing below knows a clock or a disk.
#pragma once
#include <string>
#include <string_view>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"

namespace pappus::desk {

class Clock {
 public:
  virtual ~Clock() = default;
  [[nodiscard]] virtual Instant now() const = 0;
};

class Files {
 public:
  virtual ~Files() = default;
  /// The whole file. Errors: Errc::not_found, Errc::machine_failed (rights, a folder, larger than 16 MiB: bad_input).
  [[nodiscard]] virtual Result<std::string> read(const std::string& path) const = 0;
  /// `relative` as seen from the folder of `file`; an absolute path stays.
  [[nodiscard]] virtual std::string beside(const std::string& file, const std::string& relative) const = 0;
  /// Writes the whole file, or leaves what was there: whoever reads it sees the old bytes or the new ones. What is there
  /// already is replaced only where it is empty or begins with `ours`: nobody's own notes go by a slip of the hand.
  /// Errors    with the path: Errc::conflict for a file that is not ours, Errc::bad_input for a folder,
  ///           Errc::machine_failed (rights, a full disk).
  [[nodiscard]] virtual Result<void> write(const std::string& path, std::string_view text,
                                           std::string_view ours) const = 0;
};

}  // namespace pappus::desk
