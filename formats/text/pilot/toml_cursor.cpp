#include "formats/text/pilot/toml_cursor.hpp"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

namespace pappus::text {
namespace {

// A line longer than this was not typed by a person, and finding a place in it costs time for each issue.
constexpr std::size_t kLongestLine = 2000;

bool is_blank(std::string_view s) { return s.find_first_not_of(" \t\r\n") == std::string_view::npos; }

std::string joined(std::string_view path, std::string_view key) {
  return path.empty() ? std::string(key) : std::string(path) + "." + std::string(key);
}

std::string item_path(std::string_view path, std::size_t index) {
  return std::string(path) + "[" + std::to_string(index + 1) + "]";
}

// Where the character in a column begins: bytes that continue one (10xxxxxx) are not counted.
std::size_t byte_of(std::string_view line, int column) {
  int count = 0;
  for (std::size_t i = 0; i < line.size(); ++i)
    if ((static_cast<unsigned char>(line[i]) & 0xC0u) != 0x80u && ++count == column) return i;
  return line.size();
}

const TomlMember* member_of(const TomlNode* table, std::string_view key) {
  if (table == nullptr) return nullptr;
  for (const TomlMember& member : table->members)
    if (member.key == key) return &member;
  return nullptr;
}

}  // namespace

std::string one_of(const std::vector<std::string_view>& names) {
  std::string out = "one of ";
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) out += ", ";
    out += names[i];
  }
  return out;
}

// ---- Value

Where Value::where() const { return {document_->file(), node_->span.line, node_->span.column, path_}; }

std::string Value::written() const {
  if (node_->kind == TomlKind::text) return excerpt(node_->text);
  const std::string_view source = document_->source(node_->span);
  if (!source.empty()) return excerpt(source);
  switch (node_->kind) {
    case TomlKind::table: return "a table";
    case TomlKind::list: return "a list";
    default: return "a value";
  }
}

void Value::refuse(Issue issue) const {
  issue.where = where();
  document_->tell(std::move(issue));
}

void Value::refuse(Errc code, std::string_view issue, std::string wanted) const {
  const std::string got = written();
  refuse(Issue{code, say(std::string(issue), {{"got", got}}), {}, got, std::move(wanted)});
}

void Value::other_kind(std::string wanted) const { refuse(Errc::bad_input, "issue.value_kind", std::move(wanted)); }

bool Value::keeps(double si, Dimension dimension, const Rule& rule) const {
  if (rule.low.empty()) return true;
  const auto low = parse_si(rule.low, dimension), high = parse_si(rule.high, dimension);
  return low && high && si >= *low && si <= *high;
}

namespace {

std::string wanted_range(const Rule& rule) { return std::string(rule.low) + " to " + std::string(rule.high); }

void out_of_rule(const Value& value, const Rule& rule) {
  const std::string got = value.written();
  value.refuse(Issue{
      Errc::bad_input,
      say(std::string(rule.issue), {{"got", got}, {"low", std::string(rule.low)}, {"high", std::string(rule.high)}}),
      {},
      got,
      wanted_range(rule)});
}

}  // namespace

std::optional<double> Value::quantity(Dimension dimension, const Rule& rule) const {
  if (node_->kind == TomlKind::integer || node_->kind == TomlKind::number) {
    refuse(Errc::bad_input, "issue.unit_missing", wanted_for(dimension));
    return std::nullopt;
  }
  if (node_->kind != TomlKind::text) {
    other_kind(wanted_for(dimension));
    return std::nullopt;
  }
  const Result<double> si = parse_si(node_->text, dimension);
  const bool beyond_meaning = !si && si.error().sentence.key == "issue.number_out_of_range" && !rule.low.empty();
  if (!si && !beyond_meaning) {
    refuse(si.error());
    return std::nullopt;
  }
  if (beyond_meaning || !keeps(*si, dimension, rule)) {
    out_of_rule(*this, rule);
    return std::nullopt;
  }
  return *si;
}

std::optional<double> Value::quantity_or_bare(Dimension dimension, std::string_view unit, const Rule& rule) const {
  if (node_->kind != TomlKind::integer && node_->kind != TomlKind::number) return quantity(dimension, rule);
  const double si = node_->number * unit_factor(unit, dimension).value_or(1.0);
  if (!keeps(si, dimension, rule)) {
    out_of_rule(*this, rule);
    return std::nullopt;
  }
  return si;
}

std::optional<std::string> Value::words() const {
  if (node_->kind == TomlKind::text && !is_blank(node_->text)) return node_->text;
  if (node_->kind == TomlKind::text)
    refuse(Errc::bad_input, "issue.text_blank", std::string(kWantedWords));
  else
    other_kind(std::string(kWantedWords));
  return std::nullopt;
}

std::optional<int> Value::count(const Rule& rule) const {
  if (node_->kind != TomlKind::integer) {
    other_kind(std::string(kWantedCount));
    return std::nullopt;
  }
  const double low = parse_number(rule.low).value_or(-1.0e9), high = parse_number(rule.high).value_or(1.0e9);
  if (node_->number < low || node_->number > high) {
    out_of_rule(*this, rule);
    return std::nullopt;
  }
  return static_cast<int>(node_->integer);
}

std::optional<bool> Value::truth() const {
  if (node_->kind == TomlKind::truth) return node_->truth;
  other_kind(std::string(kWantedTruth));
  return std::nullopt;
}

std::optional<Date> Value::date() const {
  std::optional<Date> found;
  if (node_->kind == TomlKind::date) found = node_->date;
  if (node_->kind == TomlKind::text) found = parse_date(node_->text);
  if (!found) refuse(Errc::bad_input, "issue.date_unreadable", std::string(kWantedDate));
  return found;
}

std::optional<balloon::Month> Value::month() const {
  std::optional<Date> found;
  if (node_->kind == TomlKind::date) found = node_->date;
  if (node_->kind == TomlKind::text) {
    found = parse_date(node_->text + "-01");
    if (!found) found = parse_date(node_->text);
  }
  if (found) return balloon::Month{found->year(), found->month()};
  refuse(Errc::bad_input, "issue.month_unreadable", std::string(kWantedMonth));
  return std::nullopt;
}

std::optional<Moment> Value::moment() const {
  std::optional<Moment> found;
  bool local = node_->kind == TomlKind::local_moment;
  if (node_->kind == TomlKind::moment) found = node_->moment;
  if (node_->kind == TomlKind::text) {
    found = parse_moment(node_->text);
    local = !found && parse_moment(node_->text + "Z");
  }
  if (!found)
    refuse(Errc::bad_input, local ? "issue.moment_without_offset" : "issue.moment_unreadable",
           std::string(kWantedMoment));
  return found;
}

std::optional<std::size_t> Value::choice(const std::vector<std::string_view>& names, const Rule& rule) const {
  if (node_->kind != TomlKind::text) {
    other_kind(one_of(names));
    return std::nullopt;
  }
  const auto found = std::find(names.begin(), names.end(), node_->text);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  const std::string_view near = nearest(node_->text, names);
  refuse(Errc::bad_input, rule.issue, near.empty() ? one_of(names) : std::string(near) + " (" + one_of(names) + ")");
  return std::nullopt;
}

std::optional<std::vector<Value>> Value::items(std::string_view wanted) const {
  if (node_->kind != TomlKind::list) {
    other_kind(std::string(wanted));
    return std::nullopt;
  }
  std::vector<Value> out;
  for (std::size_t i = 0; i < node_->items.size(); ++i)
    out.emplace_back(document_, &node_->items[i], item_path(path_, i));
  return out;
}

// ---- Table

std::optional<Value> Table::find(std::string_view key) const {
  std::vector<std::string_view>& asked = record_->asked;
  if (std::find(asked.begin(), asked.end(), key) == asked.end()) asked.push_back(key);
  const TomlMember* member = member_of(record_->node, key);
  if (member == nullptr) return std::nullopt;
  return Value{document_, &member->value, joined(record_->path, key)};
}

Table Table::table(std::string_view key) const {
  TableRecord record{nullptr, joined(record_->path, key), record_->line, record_->column, {}, false};
  if (const std::optional<Value> value = find(key)) {
    record.line = value->node().span.line;
    record.column = value->node().span.column;
    if (value->node().kind == TomlKind::table) {
      record.node = &value->node();
    } else {
      record.is_of_other_kind = true;
      value->refuse(Errc::bad_input, "issue.value_kind", "a table written [" + record.path + "]");
    }
  }
  return {document_, document_->record(std::move(record))};
}

std::vector<Table> Table::tables(std::string_view key) const {
  std::vector<Table> out;
  const std::optional<Value> value = find(key);
  if (!value) return out;
  const std::string path = joined(record_->path, key);
  const std::string wanted = "tables written [[" + path + "]]";
  const auto items = value->items(wanted);
  if (!items) return out;
  for (const Value& item : *items) {
    if (item.node().kind != TomlKind::table) {
      item.refuse(Errc::bad_input, "issue.value_kind", wanted);
      continue;
    }
    const TomlSpan& span = item.node().span;
    out.emplace_back(document_, document_->record({&item.node(), item.where().key, span.line, span.column, {}, false}));
  }
  return out;
}

std::vector<Table> Table::need_tables(std::string_view key, std::string wanted) const {
  const std::optional<Value> value = find(key);
  if (!value || (value->node().kind == TomlKind::list && value->node().items.empty())) missing(key, std::move(wanted));
  return tables(key);
}

Where Table::where(std::string_view key) const {
  const TomlMember* member = member_of(record_->node, key);
  const std::string path = joined(record_->path, key);
  if (member == nullptr) return {document_->file(), record_->line, record_->column, path};
  return {document_->file(), member->value.span.line, member->value.span.column, path};
}

void Table::refuse(std::string_view key, Errc code, std::string_view issue, std::string wanted) const {
  const TomlMember* member = member_of(record_->node, key);
  if (member != nullptr) {
    Value{document_, &member->value, joined(record_->path, key)}.refuse(code, issue, std::move(wanted));
    return;
  }
  document_->tell(Issue{code, say(std::string(issue), {{"got", std::string{}}}), where(key), {}, std::move(wanted)});
}

void Table::missing(std::string_view key, std::string wanted) const {
  if (record_->is_of_other_kind) return;
  document_->tell(Issue{Errc::bad_input, say("issue.key_missing"), where(key), {}, std::move(wanted)});
}

// ---- TomlDocument

TomlDocument::TomlDocument(std::string_view toml, std::string_view file) : toml_{toml}, file_{file} {
  records_.push_back({&root_, {}, 1, 1, {}, false});
  Result<TomlNode> parsed = parse_toml(toml, file);
  if (!parsed) {
    tell(std::move(parsed.error()));
    return;
  }
  root_ = std::move(*parsed);
  readable_ = true;
  line_starts_.push_back(0);
  for (std::size_t i = 0; i < toml.size(); ++i)
    if (toml[i] == '\n') line_starts_.push_back(i + 1);
}

TableRecord* TomlDocument::record(TableRecord r) {
  records_.push_back(std::move(r));
  return &records_.back();
}

std::string_view TomlDocument::rest_of_line(int line, int column) const {
  const auto index = static_cast<std::size_t>(line) - 1;
  if (line < 1 || index >= line_starts_.size()) return {};
  std::string_view text = toml_.substr(line_starts_[index]);
  text = text.substr(0, text.find('\n'));
  if (text.size() > kLongestLine) return {};
  return text.substr(byte_of(text, column));
}

std::string_view TomlDocument::source(const TomlSpan& span) const {
  if (span.line != span.end_line || span.end_column <= span.column) return {};
  const std::string_view text = rest_of_line(span.line, span.column);
  return text.substr(0, byte_of(text, span.end_column - span.column + 1));
}

void TomlDocument::tell_unknown(const TableRecord& record, const KeyHomes& homes) {
  for (const TomlMember& member : record.node->members) {
    if (std::find(record.asked.begin(), record.asked.end(), member.key) != record.asked.end()) continue;
    std::string wanted{nearest(member.key, record.asked)};
    // A key that stands after the wrong [table] is a common slip, as TOML gives it to the last table opened.
    if (const auto home = homes.find(member.key); wanted.empty() && home != homes.end())
      wanted = home->second.empty() ? member.key + ", before the first table" : joined(home->second, member.key);
    if (wanted.empty()) wanted = one_of(record.asked);
    const std::string key = excerpt(member.key);
    tell(Issue{Errc::bad_input,
               say("issue.key_unknown"),
               {file_, member.line, member.column, joined(record.path, key)},
               key,
               wanted});
  }
}

std::vector<Issue> TomlDocument::finish() {
  KeyHomes homes;
  for (const TableRecord& record : records_)
    for (const std::string_view key : record.asked) homes.emplace(key, record.path);
  for (const TableRecord& record : records_)
    if (readable_ && record.node != nullptr) tell_unknown(record, homes);
  // What stands in other files comes last: their lines are not this file's.
  const auto place = [this](const Issue& issue) {
    const bool elsewhere = issue.where.file != file_;
    return std::tuple{elsewhere, std::string_view{elsewhere ? issue.where.file : file_}, issue.where.line,
                      issue.where.column};
  };
  std::stable_sort(issues_.begin(), issues_.end(),
                   [&place](const Issue& a, const Issue& b) { return place(a) < place(b); });
  return std::exchange(issues_, {});
}

}  // namespace pappus::text
