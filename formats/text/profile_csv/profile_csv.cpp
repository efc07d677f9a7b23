#include "formats/text/profile_csv/profile_csv.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::text {
namespace {

constexpr AltitudeAmsl kLowest = amsl(-500 * metre), kHighest = amsl(30 * kilometre);
constexpr Speed kStrongestWind = 150 * metre_per_second;
constexpr double kColdest_c = -95.0, kHottest_c = 60.0;
constexpr std::size_t kMostFaults = 50;
constexpr std::size_t kShownLength = 40;

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

std::string trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return std::string{text};
}

struct Cell {
  std::string text;  // trimmed, without quotes
  int column = 1;    // in characters
};

struct Line {
  std::string_view text;
  int number = 0;
};

struct Row {
  wind::LadderRow row;
  int line = 0, column = 1;
  std::string height;  // as written
};

class TableReader {
 public:
  TableReader(std::string_view table, const ProfileMap& map, const ProfileContext& context)
      : rest_{table}, map_{map}, context_{context}, places_(map.columns.size()) {
    if (rest_.substr(0, 3) == "\xEF\xBB\xBF") rest_.remove_prefix(3);
  }

  Parsed<wind::Ladder> read() {
    Parsed<wind::Ladder> parsed;
    if (knows_enough()) {
      for (int i = 0; i < map_.skip && next_line(); ++i) {
      }
      if (find_columns()) read_rows();
    }
    wind::Ladder ladder{.source = context_.source, .rows = rising()};
    if (!ladder.rows.empty()) {
      parsed.value = std::move(ladder);
    } else if (issues_.empty()) {
      tell({.text = {}, .number = 0}, {}, "issue.profile_none", "a row with a height and a wind or a temperature");
    }
    parsed.issues = std::move(issues_);
    return parsed;
  }

 private:
  bool knows_enough() {
    for (const ProfileColumn& column : map_.columns) {
      if (column.quality == ProfileQuality::height_agl && !context_.ground)
        tell_call("issue.profile_ground_needed", "height agl", "the altitude of the ground, or heights amsl");
      if (column.quality == ProfileQuality::from_magnetic && !context_.variation)
        tell_call("issue.profile_variation_needed", "from magnetic", "the variation, or true directions");
    }
    return issues_.empty();
  }

  bool next_line() {
    if (done_) return false;
    const std::size_t end = rest_.find('\n');
    line_ = {rest_.substr(0, end), line_.number + 1};
    done_ = end == std::string_view::npos;
    if (!done_) rest_.remove_prefix(end + 1);
    return !(done_ && line_.text.empty());
  }

  // The next line that says anything.
  bool next_filled_line() {
    while (next_line()) {
      const auto first = std::find_if_not(line_.text.begin(), line_.text.end(), is_blank);
      if (first != line_.text.end() && *first != '#') return true;
    }
    return false;
  }

  // Cuts the line in hand into cells_; false where a quote is left open.
  bool cut() {
    cells_.clear();
    const std::string_view text = line_.text;
    const bool by_blanks = map_.separator == ' ';
    const auto is_space = [this](char c) { return is_blank(c) && c != map_.separator; };
    std::size_t i = 0;
    int column = 1;
    const auto step = [&] {
      if ((static_cast<unsigned char>(text[i]) & 0xC0u) != 0x80u) ++column;
      ++i;
    };
    const auto ends_cell = [&](char c) { return by_blanks ? is_blank(c) : c == map_.separator; };
    while (true) {
      while (i < text.size() && (by_blanks ? is_blank(text[i]) : is_space(text[i]))) step();
      if (by_blanks && i >= text.size()) return true;
      Cell cell{.text = {}, .column = column};
      if (i < text.size() && text[i] == '"') {
        step();
        while (i < text.size() && (text[i] != '"' || (i + 1 < text.size() && text[i + 1] == '"'))) {
          if (text[i] == '"') step();
          cell.text += text[i];
          step();
        }
        if (i >= text.size()) {
          tell(line_, cell, "issue.profile_open_quotes", "a closing quote in the same line");
          return false;
        }
        step();
      }
      while (i < text.size() && !ends_cell(text[i])) {
        cell.text += text[i];
        step();
      }
      cell.text = trimmed(cell.text);
      cells_.push_back(std::move(cell));
      if (i >= text.size()) return true;
      step();
    }
  }

  // Where the columns stand; those with a name are looked up in the header line.
  bool find_columns() {
    bool by_name = false;
    for (std::size_t k = 0; k < places_.size(); ++k) {
      by_name = by_name || map_.columns[k].number == 0;
      places_[k] = map_.columns[k].number;
    }
    if (!by_name) return true;
    if (!next_filled_line()) return true;
    if (!cut()) return false;
    for (std::size_t k = 0; k < places_.size(); ++k) {
      const ProfileColumn& column = map_.columns[k];
      if (column.number > 0) continue;
      const auto same = [&](const Cell& cell) { return cell.text == column.name; };
      const auto found = std::find_if(cells_.begin(), cells_.end(), same);
      if (found == cells_.end() || std::find_if(found + 1, cells_.end(), same) != cells_.end()) {
        const Cell at = found == cells_.end() ? Cell{.text = column.name, .column = 1} : *found;
        tell(line_, at, "issue.profile_header", "one column named " + excerpt(column.name, kShownLength));
      }
      places_[k] = static_cast<std::size_t>(found - cells_.begin()) + 1;
    }
    return issues_.empty();
  }

  void read_rows() {
    while (next_filled_line()) {
      if (issues_.size() >= kMostFaults) {
        tell(line_, {.text = std::string{line_.text.substr(0, kShownLength)}, .column = 1}, "issue.profile_many",
             "a table that the column map fits");
        return;
      }
      if (cut()) read_row();
    }
  }

  void read_row() {
    for (const std::size_t place : places_) {
      if (place <= cells_.size()) continue;
      tell(line_, {.text = std::string{line_.text}, .column = 1}, "issue.profile_short",
           "at least " + std::to_string(place) + " cells in a row");
      return;
    }
    Row out{.row = {}, .line = line_.number, .column = 1, .height = {}};
    std::optional<AltitudeAmsl> altitude;
    bool fault_in_height = false;
    direction_.reset();
    speed_ = east_ = north_ = std::nullopt;
    for (std::size_t k = 0; k < places_.size(); ++k) {
      const ProfileColumn& column = map_.columns[k];
      const Cell& cell = cells_[places_[k] - 1];
      const bool is_height =
          column.quality == ProfileQuality::height_amsl || column.quality == ProfileQuality::height_agl;
      const std::string written = with_point(cell.text);
      const std::optional<double> number = parse_number(written);
      if (is_missing(cell.text, number)) continue;
      if (!number) {
        tell(line_, cell, "issue.profile_number",
             map_.decimal == ',' ? "a number such as 12,5" : "a number such as 12.5");
        fault_in_height = fault_in_height || is_height;
        continue;
      }
      if (is_height) {
        altitude = altitude_of(column, *number, cell);
        fault_in_height = fault_in_height || !altitude;
        out.column = cell.column;
        out.height = cell.text;
      } else if (column.quality == ProfileQuality::temperature) {
        out.row.temperature = temperature_of(column, *number, written, cell);
      } else {
        take_wind(column, *number, cell);
      }
    }
    out.row.wind = wind_of();
    if (fault_in_height || (!out.row.wind && !out.row.temperature)) return;
    if (!altitude) {
      tell(line_, cells_.front(), "issue.profile_row_height", "a height in each row with values");
      return;
    }
    out.row.altitude = *altitude;
    rows_.push_back(std::move(out));
  }

  // A number with the decimal point that parse_number knows; with a decimal comma a point is no part of a number.
  [[nodiscard]] std::string with_point(std::string_view text) const {
    if (map_.decimal == '.') return std::string{text};
    if (text.find('.') != std::string_view::npos) return {};
    std::string written{text};
    std::replace(written.begin(), written.end(), ',', '.');
    return written;
  }

  [[nodiscard]] bool is_missing(std::string_view text, std::optional<double> number) const {
    if (text.empty()) return true;
    if (text.size() == 3 && (text[0] | 0x20) == 'n' && (text[1] | 0x20) == 'a' && (text[2] | 0x20) == 'n') return true;
    return std::any_of(map_.missing.begin(), map_.missing.end(), [&](const std::string& missing) {
      return missing == text || (number && number == parse_number(with_point(missing)));
    });
  }

  std::optional<AltitudeAmsl> altitude_of(const ProfileColumn& column, double number, const Cell& cell) {
    const Length height = number * unit_factor(column.unit, Dimension::altitude).value_or(0.0) * metre;
    const AltitudeAmsl altitude =
        column.quality == ProfileQuality::height_agl ? *context_.ground + height : amsl(height);
    if (altitude >= kLowest && altitude <= kHighest) return altitude;
    out_of_range(cell, "an altitude from -500 to 30000 m");
    return std::nullopt;
  }

  std::optional<Temperature> temperature_of(const ProfileColumn& column, double number, const std::string& written,
                                            const Cell& cell) {
    if (std::isfinite(number)) {
      const Result<double> si = parse_si(written + " " + column.unit, Dimension::temperature);
      const Temperature t = Temperature::at(si.value_or(0.0) * kelvin);
      if (t >= celsius(kColdest_c) && t <= celsius(kHottest_c)) return t;
    }
    out_of_range(cell, "a temperature from -95 to 60 C");
    return std::nullopt;
  }

  void take_wind(const ProfileColumn& column, double number, const Cell& cell) {
    const Speed speed = number * unit_factor(column.unit, Dimension::speed).value_or(0.0) * metre_per_second;
    switch (column.quality) {
      case ProfileQuality::from_true:
      case ProfileQuality::from_magnetic:
      case ProfileQuality::toward_true:
        if (number >= 0.0 && number <= 360.0) {
          direction_ = from_direction(column.quality, number * degree);
        } else {
          out_of_range(cell, "a direction from 0 to 360 deg");
        }
        return;
      case ProfileQuality::speed:
        if (speed >= Speed{} && speed <= kStrongestWind) {
          speed_ = speed;
        } else {
          out_of_range(cell, "a speed from 0 to 150 m/s");
        }
        return;
      case ProfileQuality::east:
      case ProfileQuality::north:
        if (abs(speed) <= kStrongestWind) {
          (column.quality == ProfileQuality::east ? east_ : north_) = speed;
        } else {
          out_of_range(cell, "a component from -150 to 150 m/s");
        }
        return;
      case ProfileQuality::height_amsl:
      case ProfileQuality::height_agl:
      case ProfileQuality::temperature: return;
    }
  }

  [[nodiscard]] TrueBearing from_direction(ProfileQuality quality, Angle angle) const {
    if (quality == ProfileQuality::from_magnetic) return to_true(MagneticBearing::at(angle), *context_.variation);
    const TrueBearing bearing = TrueBearing::at(angle);
    return quality == ProfileQuality::toward_true ? bearing.reversed() : bearing;
  }

  [[nodiscard]] std::optional<wind::Wind> wind_of() const {
    if (east_ && north_) return wind::Wind::toward(*east_, *north_);
    if (speed_ == Speed{}) return wind::Wind{};
    if (speed_ && direction_) return wind::Wind::from(*direction_, *speed_);
    return std::nullopt;
  }

  std::vector<wind::LadderRow> rising() {
    std::stable_sort(rows_.begin(), rows_.end(),
                     [](const Row& a, const Row& b) { return a.row.altitude < b.row.altitude; });
    std::vector<wind::LadderRow> rows;
    for (const Row& row : rows_) {
      if (rows.empty() || rows.back().altitude < row.row.altitude) {
        rows.push_back(row.row);
      } else if (issues_.size() <= kMostFaults) {
        tell({.text = {}, .number = row.line}, {.text = row.height, .column = row.column}, "issue.profile_row_double",
             "each height once", Errc::conflict);
      }
    }
    return rows;
  }

  void out_of_range(const Cell& cell, std::string_view wanted) {
    tell(line_, cell, "issue.profile_range", std::string{wanted} + ", or its mark among `missing`");
  }

  void tell(Line line, const Cell& cell, std::string_view key, std::string wanted, Errc code = Errc::bad_input) {
    const std::string got = excerpt(cell.text, kShownLength);
    issues_.push_back(
        Issue{.code = code,
              .sentence = say(std::string{key}, {{"got", got}}),
              .where = {.file = {}, .line = line.number, .column = line.number > 0 ? cell.column : 0, .key = {}},
              .got = got,
              .wanted = std::move(wanted)});
  }

  void tell_call(std::string_view key, std::string got, std::string wanted) {
    issues_.push_back(Issue{.code = Errc::bad_call,
                            .sentence = say(std::string{key}),
                            .where = {},
                            .got = std::move(got),
                            .wanted = std::move(wanted)});
  }

  std::string_view rest_;
  bool done_ = false;
  Line line_;
  const ProfileMap& map_;
  const ProfileContext& context_;
  std::vector<std::size_t> places_;  // of the map's columns, from 1
  std::vector<Cell> cells_;          // of the line in hand
  std::optional<TrueBearing> direction_;
  std::optional<Speed> speed_, east_, north_;
  std::vector<Row> rows_;
  std::vector<Issue> issues_;
};

}  // namespace

Parsed<wind::Ladder> parse_profile_csv(std::string_view table, const ProfileMap& map, const ProfileContext& context) {
  return TableReader{table, map, context}.read();
}

}  // namespace pappus::text
