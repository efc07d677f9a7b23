/// `pappus ask`: a round of questions on a terminal, line by line.
#pragma once

namespace pappus::cli {

class Call;

/// Asks, writes balloon.toml and flight.toml, and shows the sheet. Questions and what is wrong with an answer go to the
/// error stream, the sheet to the answer's.
/// Laws      before the last answer of a round no file is touched; the end of the input stops the call with the status of
///           Errc::cancelled and every file as it was. What a new file replaces is kept beside it under a dated name.
int run_ask(Call& call);

}  // namespace pappus::cli
