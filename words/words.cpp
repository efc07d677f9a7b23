#include "words/words.hpp"

#include <cstdio>
#include <type_traits>

#include "texts.hpp"
#include "words/text_file.hpp"

namespace pappus::words {
namespace {

constexpr std::size_t kShownOfGot = 80;

std::string_view file_of(Language language) {
  switch (language) {
    case Language::en: return data::en;
    case Language::es: return data::es;
  }
  return {};
}

std::string worded(const ArgumentValue& value, const Reader& reader) {
  return std::visit(
      [&](const auto& v) -> std::string {
        using T = std::decay_t<decltype(v)>;
        if constexpr (std::is_same_v<T, std::string>)
          return v;
        else if constexpr (std::is_same_v<T, Term>)
          return worded(std::string_view{v.key}, reader);
        else if constexpr (std::is_same_v<T, Measure>)
          return worded(v, reader);
        else if constexpr (std::is_same_v<T, Moment>)
          return clock(v.at, reader);
        else
          return iso8601(v);
      },
      value);
}

const Argument* argument_named(const Sentence& sentence, std::string_view name) {
  for (const Argument& argument : sentence.arguments)
    if (argument.name == name) return &argument;
  return nullptr;
}

std::string place(const Where& where) {
  std::string text = where.file;
  if (where.line > 0) text += (text.empty() ? "" : ":") + std::to_string(where.line);
  if (where.line > 0 && where.column > 0) text += ":" + std::to_string(where.column);
  if (!where.key.empty()) text += (text.empty() ? "" : " ") + where.key;
  return text;
}

// A terminal obeys control characters, and a paste may hold a whole page.
std::string on_one_line(std::string_view got) {
  std::string shown;
  std::size_t characters = 0;
  for (const char c : got) {
    const auto byte = static_cast<unsigned char>(c);
    const bool starts_character = (byte & 0xC0u) != 0x80u;
    if (starts_character && characters++ == kShownOfGot) return shown + "...";
    shown += byte < 0x20 || byte == 0x7f ? ' ' : c;
  }
  return shown;
}

}  // namespace

const Texts& texts_of(Language language) {
  static const Texts en = *read_texts(file_of(Language::en), {}).value;
  if (language == Language::en) return en;
  static const Texts es = *read_texts(file_of(Language::es), {}).value;
  return es;
}

std::vector<Issue> text_issues(Language language) {
  return read_texts(file_of(language), "data/text/" + std::string(name_of(language)) + ".toml").issues;
}

std::string worded(std::string_view key, const Reader& reader) {
  const Text* text = texts_of(reader.language).find(key);
  return text == nullptr ? "<" + std::string(key) + ">" : text->text;
}

std::string worded(const Sentence& sentence, const Reader& reader) {
  const std::string text = worded(std::string_view{sentence.key}, reader);
  std::string out;
  std::size_t at = 0;
  for (std::size_t open = text.find('{'); open != std::string::npos; open = text.find('{', at)) {
    const std::size_t close = text.find('}', open);
    if (close == std::string::npos) break;
    out.append(text, at, open - at);
    const Argument* argument = argument_named(sentence, std::string_view{text}.substr(open + 1, close - open - 1));
    out += argument == nullptr ? text.substr(open, close + 1 - open) : worded(argument->value, reader);
    at = close + 1;
  }
  return out.append(text, at);
}

std::string clock(Instant t, const Reader& reader) {
  const Moment moment{t, reader.offset};
  const int minutes = moment.minute_of_day();
  char text[8];
  std::snprintf(text, sizeof text, "%02d:%02d", minutes / 60 % 24, minutes % 60);
  const bool another_day = reader.today && *reader.today != moment.date();
  return another_day ? iso8601(moment.date()) + " " + text : text;
}

std::string worded(const Issue& issue, const Reader& reader) {
  std::string finding = worded(issue.sentence, reader);
  if (!finding.empty() && finding.back() == '.') finding.pop_back();  // the forms below bring their own
  const std::string got = on_one_line(issue.got);
  Sentence form;
  if (!got.empty() && !issue.wanted.empty())
    form = say("issue_form.got_wanted", {{"finding", finding}, {"got", got}, {"wanted", issue.wanted}});
  else if (!got.empty())
    form = say("issue_form.got", {{"finding", finding}, {"got", got}});
  else if (!issue.wanted.empty())
    form = say("issue_form.wanted", {{"finding", finding}, {"wanted", issue.wanted}});
  else
    form = say("issue_form.plain", {{"finding", finding}});
  const std::string what = worded(form, reader);
  const std::string where = place(issue.where);
  return where.empty() ? what : worded(say("issue_form.at", {{"where", where}, {"what", what}}), reader);
}

std::vector<std::string> keys(Language language) {
  std::vector<std::string> all;
  for (const Text& text : texts_of(language).all()) all.push_back(text.key);
  return all;
}

std::vector<std::string> placeholders(Language language, std::string_view key) {
  const Text* text = texts_of(language).find(key);
  return text == nullptr ? std::vector<std::string>{} : placeholders_in(text->text);
}

}  // namespace pappus::words
