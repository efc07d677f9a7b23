/// Published values as data: a CSV with a header line, a source and a tolerance in every row.
///
/// A row whose column `known_failing` holds text is counted and must fail; the text is the reason.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace pappus::testing {

class Row {
 public:
  Row(const std::vector<std::string>* header, std::vector<std::string> cells, int line, std::string table);
  /// The number in a column. Fails the test run loudly where there is none.
  [[nodiscard]] double operator[](std::string_view column) const;
  [[nodiscard]] std::string text(std::string_view column) const;
  [[nodiscard]] bool has(std::string_view column) const;  // the column exists and is not empty
  /// "isa.csv line 7: USSA1976 table I": for SCOPED_TRACE.
  [[nodiscard]] std::string where() const;

 private:
  const std::vector<std::string>* header_;
  std::vector<std::string> cells_;
  int line_;
  std::string table_;
};

/// All rows of tests/data/<name>. Throws when the table is missing, empty, ragged, or a row has no source.
const std::vector<Row>& read_table(const std::string& name);

}  // namespace pappus::testing
