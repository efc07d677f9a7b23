#include "faces/cli/show.hpp"

namespace pappus::cli {

void show(Terminal& to, const desk::BurnAnswer& answer, const words::Reader& reader) {
  show(to, answer.fuel, reader);
  if (answer.supply) {
    const balloon::SupplyPlan& supply = *answer.supply;
    to.heading(words::worded("show.supply_order", reader));
    show_notes(to, supply.proposal, reader);
    to.heading(words::worded("show.supply", reader));
    show_notes(to, supply.findings, reader);
    to.heading(words::worded("show.cautions", reader));
    show_notes(to, supply.cautions, reader);
  } else {
    to.heading(words::worded("show.cautions", reader));
  }
  show_notes(to, answer.notes, reader);
}

}  // namespace pappus::cli
