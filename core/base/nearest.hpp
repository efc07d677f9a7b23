/// What a person probably meant: for issues that name the nearest right word.
#pragma once
#include <string_view>
#include <vector>

namespace pappus {

/// The one of `known` that `written` was probably meant to be: equal but for case and '-' against '_', or at most two
/// letters changed, added, dropped or swapped (one in words of up to four), or one the beginning of the other. Empty
/// where none is near. The work does not grow with a longer `written`: only its first 64 letters count.
std::string_view nearest(std::string_view written, const std::vector<std::string_view>& known);

}  // namespace pappus
