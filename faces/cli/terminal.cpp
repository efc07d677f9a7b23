#include "faces/cli/terminal.hpp"

namespace pappus::cli {
namespace {

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; }

}  // namespace

std::size_t columns(std::string_view text) {
  std::size_t n = 0;
  bool in_colour = false;  // from "\x1b[" to "m"
  for (const char c : text) {
    if (c == '\x1b') in_colour = true;
    if (!in_colour && !continues(c)) ++n;
    if (c == 'm') in_colour = false;
  }
  return n;
}

std::string fitted(std::string_view text, std::size_t width) {
  const std::size_t n = columns(text);
  if (n <= width) return std::string(text) + std::string(width - n, ' ');
  std::string out;
  std::size_t taken = 0;
  for (const char c : text) {
    if (!continues(c) && ++taken > width - 3) break;
    out += c;
  }
  return out + "...";
}

std::string right(std::string_view text, std::size_t width) {
  const std::size_t n = columns(text);
  return std::string(n < width ? width - n : 0, ' ') + std::string(text);
}

std::string Terminal::toned(std::string_view text, Tone tone) const {
  if (!colour_ || tone == Tone::plain) return std::string(text);
  std::string_view code = "1";
  switch (tone) {
    case Tone::plain:
    case Tone::strong: code = "1"; break;
    case Tone::quiet: code = "2"; break;
    case Tone::good: code = "32"; break;
    case Tone::care: code = "1;33"; break;
    case Tone::bad: code = "1;31"; break;
  }
  return "\x1b[" + std::string(code) + "m" + std::string(text) + "\x1b[0m";
}

void Terminal::line(std::string_view text) {
  const std::size_t last = text.find_last_not_of(' ');
  (text_ += text.substr(0, last == std::string_view::npos ? 0 : last + 1)) += '\n';
}

void Terminal::heading(std::string_view text) {
  if (!text_.empty()) line();
  line(toned(text, Tone::strong));
}

void Terminal::paragraph(std::string_view text, std::size_t indent, std::string_view lead) {
  std::string row = std::string(lead) + std::string(columns(lead) < indent ? indent - columns(lead) : 0, ' ');
  std::size_t used = columns(row);
  bool fresh = true;
  while (!text.empty()) {
    const std::size_t end = text.find(' ');
    const std::string_view word = text.substr(0, end);
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    const std::size_t n = columns(word);
    if (!fresh && used + 1 + n > kWidth) {
      line(row);
      row = std::string(indent, ' ');
      used = indent;
      fresh = true;
    }
    if (!fresh) {
      row += ' ';
      ++used;
    }
    row += word;
    used += n;
    fresh = false;
  }
  line(row);
}

void Terminal::entry(std::string_view name, std::string_view value) {
  const std::size_t width = 56;
  const std::string shown = "  " + (columns(name) + 4 > width ? fitted(name, width - 4) : std::string(name)) + ' ';
  std::string dots;
  for (std::size_t at = columns(shown); at < width; ++at) dots += at % 2 == 0 ? '.' : ' ';
  line(shown + dots + right(value, 22));
}

}  // namespace pappus::cli
