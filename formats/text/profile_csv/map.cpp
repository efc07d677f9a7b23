// The column map: its syntax, its checks and its printing.
#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "formats/text/profile_csv/profile_csv.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::text {
namespace {

constexpr int kMostSkipped = 1000;
constexpr std::size_t kMostColumns = 1000;

// A quality by its word and its reference, with the units that will do.
struct Known {
  ProfileQuality quality;
  std::string_view word, reference;
  Dimension dimension;
};
constexpr std::array<Known, 9> kQualities{{{ProfileQuality::height_amsl, "height", "amsl", Dimension::altitude},
                                           {ProfileQuality::height_agl, "height", "agl", Dimension::altitude},
                                           {ProfileQuality::from_true, "from", "true", Dimension::angle},
                                           {ProfileQuality::from_magnetic, "from", "magnetic", Dimension::angle},
                                           {ProfileQuality::toward_true, "toward", "true", Dimension::angle},
                                           {ProfileQuality::speed, "speed", "", Dimension::speed},
                                           {ProfileQuality::east, "east", "", Dimension::speed},
                                           {ProfileQuality::north, "north", "", Dimension::speed},
                                           {ProfileQuality::temperature, "temperature", "", Dimension::temperature}}};

struct Character {
  std::string_view word;
  char c;
};
constexpr std::array<Character, 9> kSeparators{{{"comma", ','},
                                                {"semicolon", ';'},
                                                {"tab", '\t'},
                                                {"blank", ' '},
                                                {"bar", '|'},
                                                {"colon", ':'},
                                                {",", ','},
                                                {"|", '|'},
                                                {":", ':'}}};
constexpr std::array<Character, 2> kDecimals{{{"point", '.'}, {"comma", ','}}};

constexpr std::string_view kWantedQuality = "height, from, toward, speed, east, north or temperature";
constexpr std::string_view kWantedWhere = "a column's number from 1, or its name in the header line";

// A part of the map and where it begins.
struct Piece {
  std::string_view text;
  std::size_t at = 0;
};

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

Piece trimmed(Piece p) {
  while (!p.text.empty() && is_blank(p.text.front())) {
    p.text.remove_prefix(1);
    ++p.at;
  }
  while (!p.text.empty() && is_blank(p.text.back())) p.text.remove_suffix(1);
  return p;
}

// Cut at `mark` where it stands outside quotes; one piece more than there are marks.
std::vector<Piece> cut(Piece whole, char mark) {
  std::vector<Piece> pieces;
  bool quoted = false;
  std::size_t from = 0;
  for (std::size_t i = 0; i <= whole.text.size(); ++i) {
    if (i < whole.text.size() && whole.text[i] == '"') quoted = !quoted;
    if (i < whole.text.size() && (quoted || whole.text[i] != mark)) continue;
    pieces.push_back(trimmed({whole.text.substr(from, i - from), whole.at + from}));
    from = i + 1;
  }
  return pieces;
}

// The first word, taken off the piece.
Piece take_word(Piece& rest) {
  std::size_t end = 0;
  while (end < rest.text.size() && !is_blank(rest.text[end])) ++end;
  const Piece word{rest.text.substr(0, end), rest.at};
  rest = trimmed({rest.text.substr(end), rest.at + end});
  return word;
}

std::string lower(std::string_view text) {
  std::string out{text};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

bool is_figures(std::string_view text) { return !text.empty() && std::all_of(text.begin(), text.end(), is_digit); }

std::optional<std::size_t> whole_number(std::string_view text, std::size_t most) {
  if (!is_figures(text) || text.size() > 6) return std::nullopt;
  std::size_t value = 0;
  for (const char c : text) value = 10 * value + static_cast<std::size_t>(c - '0');
  return value <= most ? std::optional{value} : std::nullopt;
}

std::string names_of_units(Dimension dimension) {
  std::string all;
  for (const std::string_view unit : units_of(dimension)) all += (all.empty() ? "" : ", ") + std::string{unit};
  return all;
}

bool is_wind_direction(ProfileQuality q) {
  return q == ProfileQuality::from_true || q == ProfileQuality::from_magnetic || q == ProfileQuality::toward_true;
}

const Known& known(ProfileQuality quality) {
  for (const Known& k : kQualities)
    if (k.quality == quality) return k;
  return kQualities.front();  // every enumerator has its row
}

class MapReader {
 public:
  explicit MapReader(std::string_view spec) : spec_{spec} {}

  Parsed<ProfileMap> read() {
    const std::vector<Piece> sections = cut({spec_, 0}, ';');
    if (std::count(spec_.begin(), spec_.end(), '"') % 2 != 0) {
      tell({spec_.substr(spec_.rfind('"')), spec_.rfind('"')}, "issue.profile_quotes", "a closing quote");
    } else if (sections.front().text.empty()) {
      tell(sections.front(), "issue.profile_map_empty", "columns such as height=1 m agl, from=2 deg true, speed=3 kt");
    } else {
      for (const Piece& piece : cut(sections.front(), ',')) take_column(piece);
      for (std::size_t i = 1; i < sections.size(); ++i)
        if (!sections[i].text.empty()) take_setting(sections[i]);
      if (issues_.empty()) check_whole();
    }
    Parsed<ProfileMap> parsed;
    if (issues_.empty()) parsed.value = std::move(map_);
    parsed.issues = std::move(issues_);
    return parsed;
  }

 private:
  // The word before '=', which is taken off the piece.
  static std::optional<std::string> take_key(Piece& piece) {
    const std::size_t equals = piece.text.find('=');
    if (equals == std::string_view::npos) return std::nullopt;
    const std::string key = lower(trimmed({piece.text.substr(0, equals), 0}).text);
    piece = trimmed({piece.text.substr(equals + 1), piece.at + equals + 1});
    return key;
  }

  void take_column(Piece piece) {
    const Piece whole = piece;
    const std::optional<std::string> word = take_key(piece);
    const bool is_quality =
        word && std::any_of(kQualities.begin(), kQualities.end(), [&](const Known& k) { return k.word == *word; });
    if (!is_quality) {
      tell(whole, "issue.profile_quality", kWantedQuality);
      return;
    }
    ProfileColumn column;
    if (!take_where(piece, column)) return;
    const Piece unit = take_word(piece), reference = take_word(piece);
    if (!piece.text.empty()) {
      tell(piece, "issue.profile_reference", "nothing more, or a comma before the next column");
      return;
    }
    const Known* found = nullptr;
    std::string references;
    for (const Known& k : kQualities) {
      if (k.word != *word) continue;
      if (k.reference == lower(reference.text)) found = &k;
      references += (references.empty() ? "" : " or ") + std::string{k.reference};
    }
    const Dimension dimension = dimension_of(*word);
    if (unit.text.empty() || !parse_si("1" + std::string{unit.text}, dimension)) {
      tell(unit.text.empty() ? whole : unit, "issue.profile_unit", names_of_units(dimension));
      return;
    }
    if (found == nullptr) {
      tell(reference.text.empty() ? whole : reference, "issue.profile_reference",
           references.empty() ? "nothing behind the unit" : references + " behind the unit");
      return;
    }
    column.quality = found->quality;
    column.unit = std::string{unit.text};
    add(std::move(column), *word, whole);
  }

  static Dimension dimension_of(std::string_view word) {
    for (const Known& k : kQualities)
      if (k.word == word) return k.dimension;
    return Dimension::length;
  }

  // A word, or a text in quotes, taken off the piece; none where a quote stands inside a word.
  static std::optional<Piece> take_text(Piece& piece) {
    if (piece.text.empty() || piece.text.front() != '"') {
      const Piece word = take_word(piece);
      return word.text.find('"') == std::string_view::npos ? std::optional{word} : std::nullopt;
    }
    const std::size_t end = piece.text.find('"', 1);  // there is one: quotes were counted
    const Piece text = trimmed({piece.text.substr(1, end - 1), piece.at + 1});
    piece = trimmed({piece.text.substr(end + 1), piece.at + end + 1});
    return text;
  }

  bool take_where(Piece& piece, ProfileColumn& column) {
    const Piece whole = piece;
    const bool quoted = !piece.text.empty() && piece.text.front() == '"';
    const std::optional<Piece> where = take_text(piece);
    if (where && !quoted && is_figures(where->text)) {
      column.number = whole_number(where->text, kMostColumns).value_or(0);
    } else if (where) {
      column.name = std::string{where->text};
    }
    const bool good = column.number > 0 || !column.name.empty();
    if (!good) tell(where && !quoted ? *where : whole, "issue.profile_where", kWantedWhere);
    return good;
  }

  void add(ProfileColumn column, std::string_view word, Piece whole) {
    for (const ProfileColumn& other : map_.columns) {
      if (known(other.quality).word == word) {
        tell(whole, "issue.profile_double", "each quality once", Errc::conflict);
        return;
      }
      if (other.number == column.number && other.name == column.name) {
        tell(whole, "issue.profile_double", "each column once", Errc::conflict);
        return;
      }
    }
    map_.columns.push_back(std::move(column));
  }

  void take_setting(Piece piece) {
    const Piece whole = piece;
    const std::string key = take_key(piece).value_or("");
    if (key == "missing") {
      std::optional<Piece> text;
      do {
        text = take_text(piece);
        if (!text || text->text.empty()) {
          tell(whole, "issue.profile_value", "texts that stand for no value, such as missing=-9999 \"not seen\"");
          return;
        }
        map_.missing.emplace_back(text->text);
      } while (!piece.text.empty());
      return;
    }
    if (key != "skip" && key != "separator" && key != "decimal") {
      tell(whole, "issue.profile_setting", "skip, separator, decimal or missing");
      return;
    }
    if (std::find(settings_.begin(), settings_.end(), key) != settings_.end()) {
      tell(whole, "issue.profile_double", "each setting once", Errc::conflict);
      return;
    }
    settings_.push_back(key);
    if (key == "skip") {
      const std::optional<std::size_t> lines = whole_number(piece.text, kMostSkipped);
      if (!lines) tell(whole, "issue.profile_value", "a number of lines from 0 to 1000, such as skip=1");
      map_.skip = static_cast<int>(lines.value_or(0));
    } else if (key == "separator") {
      take_character(kSeparators, piece, whole, "comma, semicolon, tab, blank, bar or colon", map_.separator);
    } else {
      take_character(kDecimals, piece, whole, "point or comma", map_.decimal);
    }
  }

  template <class Table>
  void take_character(const Table& table, Piece piece, Piece whole, std::string_view wanted, char& out) {
    const std::string word = lower(piece.text);
    for (const Character& c : table) {
      if (c.word != word) continue;
      out = c.c;
      return;
    }
    tell(whole, "issue.profile_value", wanted);
  }

  void check_whole() {
    const auto count = [this](auto is) { return std::count_if(map_.columns.begin(), map_.columns.end(), is); };
    const auto has = [&](ProfileQuality q) {
      return count([q](const ProfileColumn& c) { return c.quality == q; }) > 0;
    };
    const Piece all{spec_, 0};
    const auto directions = count([](const ProfileColumn& c) { return is_wind_direction(c.quality); });
    const bool speed = has(ProfileQuality::speed), east = has(ProfileQuality::east), north = has(ProfileQuality::north);
    if (!has(ProfileQuality::height_amsl) && !has(ProfileQuality::height_agl))
      tell(all, "issue.profile_height_missing", "a column such as height=1 m amsl", Errc::no_data);
    if (directions > 1 || ((directions > 0 || speed) && (east || north))) {
      tell(all, "issue.profile_double", "one kind of wind: from and speed, toward and speed, or east and north",
           Errc::conflict);
    } else if ((directions > 0) != speed || east != north) {
      tell(all, "issue.profile_wind_incomplete", "from or toward with a speed, or east with north", Errc::no_data);
    } else if (!speed && !east && !has(ProfileQuality::temperature)) {
      tell(all, "issue.profile_nothing_asked", "a wind or a temperature", Errc::no_data);
    }
    if (map_.decimal == map_.separator)
      tell(all, "issue.profile_decimal", "another separator beside a decimal comma", Errc::conflict);
  }

  void tell(Piece piece, std::string_view key, std::string_view wanted, Errc code = Errc::bad_input) {
    const std::string got = excerpt(piece.text, 40);
    const std::string_view before = spec_.substr(0, piece.at);
    const auto columns = std::count_if(before.begin(), before.end(), [](char c) {
      return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;  // characters, not bytes
    });
    Issue issue;
    issue.code = code;
    issue.sentence = say(std::string{key}, {{"got", got}});
    issue.got = got;
    issue.wanted = std::string{wanted};
    issue.where.line = 1;
    issue.where.column = static_cast<int>(columns) + 1;
    issue.where.key = "columns";
    issues_.push_back(std::move(issue));
  }

  std::string_view spec_;
  ProfileMap map_;
  std::vector<std::string> settings_;  // seen
  std::vector<Issue> issues_;
};

}  // namespace

Parsed<ProfileMap> parse_profile_map(std::string_view spec) { return MapReader{spec}.read(); }

std::string print_profile_map(const ProfileMap& map) {
  std::string out;
  for (const ProfileColumn& column : map.columns) {
    const Known& k = known(column.quality);
    out += (out.empty() ? "" : ", ") + std::string{k.word} + "=";
    out += column.number > 0 ? std::to_string(column.number) : '"' + column.name + '"';
    out += " " + column.unit;
    if (!k.reference.empty()) out += " " + std::string{k.reference};
  }
  if (map.skip > 0) out += "; skip=" + std::to_string(map.skip);
  const auto word_of = [](const auto& table, char c) {
    for (const Character& entry : table)
      if (entry.c == c) return std::string{entry.word};
    return std::string{};
  };
  out += "; separator=" + word_of(kSeparators, map.separator) + "; decimal=" + word_of(kDecimals, map.decimal);
  for (const std::string& missing : map.missing) out += "; missing=\"" + missing + '"';
  return out;
}

}  // namespace pappus::text
