/// What the command line understands: one table from which parsing, help, manual and completion are made.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace pappus::cli {

class Call;

/// An option that takes one value, or none where `placeholder` is empty; one that is `repeatable` takes one each time.
struct OptionSpec {
  std::string_view name;         // "--elevation"
  std::string_view placeholder;  // "1500m": an example of the value
  bool required = false;
  bool repeatable = false;
  int count = 1;                // values taken at once
  std::string_view about = {};  // its text under help.option, where a word means another thing in another verb
};

struct VerbSpec {
  std::string_view name;
  std::string_view positional;  // "FLIGHT", "SOURCE..."; empty: none; in brackets: may be left out
  std::vector<OptionSpec> options;
  int (*run)(Call& call);
};

/// Every verb, in the order in which help lists them. Texts stand under help.<verb>.summary, help.<verb>.more and
/// help.option.<option>.
std::span<const VerbSpec> verbs();
/// The options that every verb takes.
std::span<const OptionSpec> common_options();

}  // namespace pappus::cli
