/// The manual page and the shell completion, made from the table of verbs like help is.
#pragma once
#include <string>

#include "faces/cli/verbs.hpp"
#include "words/words.hpp"

namespace pappus::cli {

/// A page for man(1): `pappus manual | man -l -`.
[[nodiscard]] std::string manual_page(const words::Reader& reader);
/// A script for bash: `. <(pappus completion)`.
[[nodiscard]] std::string bash_completion();

/// The key of an option's text: "help.option.dew_point" for "--dew-point", unless the option names another.
[[nodiscard]] std::string option_text_key(const OptionSpec& option);

}  // namespace pappus::cli
