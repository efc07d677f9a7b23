/// From two text files to the morning they describe.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/issue.hpp"
#include "core/sheet/morning.hpp"
#include "desk/ports.hpp"
#include "desk/store.hpp"

namespace pappus::desk {

/// Which book is looked into: `book`, or the balloon file's own (desk::default_book) where there is one. Without
/// stores, or with `none`, none is.
struct BookLook {
  const Stores* stores = nullptr;
  std::optional<std::string> book = std::nullopt;
  bool none = false;
};

/// Reads the flight file, the balloon file that it names and, if it names one, the pilot's file, and holds them against
/// each other.
/// The present is `now` if given (a moment in the offset it was written in), else the flight's as_of, else the clock in
/// the flight's offset.
/// What the book remembers of the balloon's cylinders up to the present is taken along; what in it is not understood
/// leaves the amounts open and is told as a warning of its own in the morning's cylinders. A book that is asked for by
/// name has to be there.
/// Issues of all files are told together. There is a value only if none of them is more than a warning.
Parsed<sheet::Morning> open_flight(const std::string& path, const Files& files, const Clock& clock,
                                   const std::optional<Moment>& now, const BookLook& look = {});

}  // namespace pappus::desk
