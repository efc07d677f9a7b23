#include "tests/support/table.hpp"

#include <cstdlib>
#include <map>
#include <memory>
#include <stdexcept>

#include "test_tables.hpp"

namespace pappus::testing {
namespace {

const std::map<std::string, const std::string_view*>& tables() {
  static const std::map<std::string, const std::string_view*> all{
#include "table_list.inc"
  };
  return all;
}

// RFC 4180 cells of one line; quoted cells may hold commas.
std::vector<std::string> cells_of(std::string_view line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  return cells;
}

struct Table {
  std::vector<std::string> header;
  std::vector<Row> rows;
};

std::unique_ptr<Table> load(const std::string& name) {
  const auto found = tables().find(name);
  if (found == tables().end()) throw std::runtime_error("no table tests/data/" + name);
  auto table = std::make_unique<Table>();
  std::string_view rest = *found->second;
  for (int line = 1; !rest.empty(); ++line) {
    const std::size_t end = rest.find('\n');
    std::string_view text = rest.substr(0, end);
    rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
    if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
    if (text.empty() || text.front() == '#') continue;
    std::vector<std::string> cells = cells_of(text);
    if (table->header.empty()) {
      table->header = std::move(cells);
      continue;
    }
    if (cells.size() != table->header.size())
      throw std::runtime_error("tests/data/" + name + " line " + std::to_string(line) + ": ragged");
    table->rows.emplace_back(&table->header, std::move(cells), line, name);
    if (!table->rows.back().has("source"))
      throw std::runtime_error("tests/data/" + name + " line " + std::to_string(line) + ": no source");
  }
  if (table->rows.empty()) throw std::runtime_error("tests/data/" + name + " is empty");
  return table;
}

}  // namespace

Row::Row(const std::vector<std::string>* header, std::vector<std::string> cells, int line, std::string table)
    : header_{header}, cells_{std::move(cells)}, line_{line}, table_{std::move(table)} {}

std::string Row::text(std::string_view column) const {
  for (std::size_t i = 0; i < header_->size(); ++i)
    if ((*header_)[i] == column) return cells_[i];
  throw std::runtime_error(where() + ": no column " + std::string(column));
}

bool Row::has(std::string_view column) const {
  for (std::size_t i = 0; i < header_->size(); ++i)
    if ((*header_)[i] == column) return !cells_[i].empty();
  return false;
}

double Row::operator[](std::string_view column) const {
  const std::string cell = text(column);
  char* end = nullptr;
  const double value = std::strtod(cell.c_str(), &end);
  if (cell.empty() || *end != '\0') throw std::runtime_error(where() + ": not a number: " + cell);
  return value;
}

std::string Row::where() const {
  std::string source;
  for (std::size_t i = 0; i < header_->size(); ++i)
    if ((*header_)[i] == "source") source = cells_[i];
  return table_ + " line " + std::to_string(line_) + ": " + source;
}

const std::vector<Row>& read_table(const std::string& name) {
  static std::map<std::string, std::unique_ptr<Table>> loaded;
  auto& slot = loaded[name];
  if (!slot) slot = load(name);
  return slot->rows;
}

}  // namespace pappus::testing
