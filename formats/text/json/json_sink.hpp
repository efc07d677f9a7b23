/// JSON text, written value by value from left to right.
///
/// Numbers have the fewest digits that read back as the same double: 1500, 0.1, 1e-07; minus nought is 0.
/// Text that is not UTF-8 (a paste may be anything) has U+FFFD in place of what is broken.
/// Errors    std::logic_error where the calls don't make one JSON value, or a number is not finite: both are our own
///           mistake and never the user's.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace pappus::json {

enum class Layout {
  compact,   // one line
  indented,  // two blanks a level, for people and for `git diff`
};

class JsonSink {
 public:
  explicit JsonSink(Layout layout) : layout_{layout} {}
  void begin_object() { open('{'); }
  void end_object() { close('}'); }
  void begin_array() { open('['); }
  void end_array() { close(']'); }
  void key(std::string_view name);
  void number(double value);
  void whole(std::int64_t value);
  void text(std::string_view value);
  void boolean(bool value);
  void null();
  /// key(name) and text(value).
  void entry(std::string_view name, std::string_view value) {
    key(name);
    text(value);
  }
  /// The text of the one value written. The sink is used up.
  [[nodiscard]] std::string finish();

 private:
  struct Level {
    char bracket = '{';
    bool empty = true;
  };
  void open(char bracket);
  void close(char bracket);
  void before_value();
  void separate();
  void new_line();

  Layout layout_;
  std::string out_;
  std::vector<Level> levels_;
  std::string last_key_;
  bool key_waits_ = false;
};

/// `value` as JSON writes it. Domain: finite, else std::logic_error.
[[nodiscard]] std::string number_text(double value);

}  // namespace pappus::json
