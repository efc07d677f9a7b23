/// The ports of the desk on a real machine: its clock and its disk.
#pragma once
#include "desk/ports.hpp"

namespace pappus::ports {

class SystemClock final : public desk::Clock {
 public:
  [[nodiscard]] Instant now() const override;
};

class DiskFiles final : public desk::Files {
 public:
  /// "-" reads standard input.
  [[nodiscard]] Result<std::string> read(const std::string& path) const override;
  [[nodiscard]] std::string beside(const std::string& file, const std::string& relative) const override;
  /// By way of a file beside it that is renamed. Not flushed to the disk: what was written can be made again.
  [[nodiscard]] Result<void> write(const std::string& path, std::string_view text,
                                   std::string_view ours) const override;
};

}  // namespace pappus::ports
