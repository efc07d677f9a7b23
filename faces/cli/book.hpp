/// `pappus book ACTION BALLOON`: one verb, and under it an action with options and an answer of its own.
///
/// A verb of the table has one list of options and one function. The options of `book` are those of all its actions
/// together, so that help, manual and completion know them; what an action does not take is refused here.
#pragma once
#include <vector>

#include "faces/cli/verbs.hpp"

namespace pappus::cli {

class Call;

[[nodiscard]] std::vector<OptionSpec> book_options();
/// A broken chain is an answer, and the status that of Errc::conflict, so that a script stops.
int run_book(Call& call);

}  // namespace pappus::cli
