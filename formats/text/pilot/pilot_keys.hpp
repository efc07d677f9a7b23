/// The keys of [pilot] and [minimum], wherever they stand. For the readers of flight and pilot files.
#pragma once
#include <optional>

#include "core/base/instant.hpp"
#include "core/people/aboard.hpp"
#include "core/sheet/morning.hpp"
#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {

/// `latest` is the last day that has come: what was done can't lie after it. None: nothing is held against it.
void read_papers(const Table& table, std::optional<Date> latest, people::Pilot& out);
void read_minima(const Table& table, sheet::OwnMinimum& out);

}  // namespace pappus::text
