#include "desk/open_evening.hpp"

#include <algorithm>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "core/sheet/flight_sheet.hpp"
#include "desk/open_flight.hpp"
#include "formats/text/evening/evening.hpp"

namespace pappus::desk {
namespace {

// The file already read, and the others: standard input can be read but once.
class OnceRead final : public Files {
 public:
  OnceRead(const Files& files, const std::string& path, const std::string& text)
      : files_{files}, path_{path}, text_{text} {}
  [[nodiscard]] Result<std::string> read(const std::string& path) const override {
    if (path == path_) return text_;
    return files_.read(path);
  }
  [[nodiscard]] std::string beside(const std::string& file, const std::string& relative) const override {
    return files_.beside(file, relative);
  }
  [[nodiscard]] Result<void> write(const std::string& path, std::string_view text,
                                   std::string_view ours) const override {
    return files_.write(path, text, ours);
  }

 private:
  const Files& files_;
  const std::string& path_;
  const std::string& text_;
};

// A flight file without a time of its own is refused; until then its parts are held against dawn's present.
class Dawn final : public Clock {
 public:
  explicit Dawn(Instant present) : present_{present} {}
  [[nodiscard]] Instant now() const override { return present_; }

 private:
  Instant present_;
};

Parsed<sheet::Evening> from_flight(const std::string& path, const std::string& text, const Files& files, Instant dawn,
                                   const BookLook& look) {
  Parsed<sheet::Evening> out;
  auto evening = open_flight(path, OnceRead{files, path, text}, Dawn{dawn}, std::nullopt, look);
  out.issues = std::move(evening.issues);
  if (!evening.value) return out;
  if (!evening.value->flight.as_of) {
    out.issues.push_back({Errc::bad_input,
                          say("issue.evening_no_as_of"),
                          {path, 0, 0, "as_of"},
                          {},
                          "as_of, such as 2027-05-15T20:10:00-09:00"});
    return out;
  }
  out.value = sheet::evening_of(sheet::sheet(*evening.value));
  return out;
}

// Empty where the evening speaks of this morning.
std::vector<Issue> held_against(const sheet::Evening& evening, const sheet::Morning& morning, const std::string& path) {
  std::vector<Issue> out;
  const auto tell = [&](Errc code, const char* sentence, const char* key, std::string got, std::string wanted) {
    out.push_back({code, say(sentence), {path, 0, 0, key}, std::move(got), std::move(wanted)});
  };
  if (evening.balloon != morning.balloon.name)
    tell(Errc::conflict, "issue.evening_balloon", "balloon", evening.balloon, morning.balloon.name);
  if (evening.field != morning.flight.field.name)
    tell(Errc::conflict, "issue.evening_field", "field", evening.field, morning.flight.field.name);
  if (evening.time.date() != morning.flight.time.date())
    tell(Errc::conflict, "issue.evening_day", "time", iso8601(evening.time), iso8601(morning.flight.time.date()));
  // The evening's times are whole seconds.
  if (evening.as_of.at > morning.as_of.at + second)
    tell(Errc::bad_input, "issue.evening_later", "as_of", iso8601(evening.as_of),
         "not after the present, " + iso8601(morning.as_of));
  return out;
}

}  // namespace

Parsed<sheet::Evening> open_evening(const std::string& path, const sheet::Morning& morning, const Files& files,
                                    const BookLook& look) {
  Parsed<sheet::Evening> out;
  const auto text = files.read(path);
  if (!text) {
    out.issues.push_back(text.error());
    return out;
  }
  out = text::is_json_object(*text) ? text::parse_evening(*text, path)
                                    : from_flight(path, *text, files, morning.as_of.at, look);
  if (!out.value) return out;
  std::vector<Issue> conflicts = held_against(*out.value, morning, path);
  if (!conflicts.empty()) out.value.reset();
  std::move(conflicts.begin(), conflicts.end(), std::back_inserter(out.issues));
  return out;
}

}  // namespace pappus::desk
