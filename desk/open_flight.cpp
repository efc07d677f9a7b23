#include "desk/open_flight.hpp"

#include <algorithm>
#include <iterator>

#include "desk/book_answer.hpp"
#include "desk/book_events.hpp"
#include "desk/learned_answer.hpp"
#include "formats/text/pilot/balloon_file.hpp"
#include "formats/text/pilot/flight_file.hpp"
#include "formats/text/pilot/pilot_file.hpp"

namespace pappus::desk {
namespace {

template <class T>
void take_issues(std::vector<Issue>& into, Parsed<T>& from) {
  std::move(from.issues.begin(), from.issues.end(), std::back_inserter(into));
}

// The text of a file that the flight names; none after it has been told under the flight's key.
std::optional<std::string> read_named(const std::string& flight_path, const char* key, const std::string& path,
                                      const Files& files, std::vector<Issue>& issues) {
  auto text = files.read(path);
  if (text) return *std::move(text);
  Issue issue = text.error();
  issue.where = Where{flight_path, 0, 0, key};
  issue.got = path;
  issues.push_back(std::move(issue));
  return std::nullopt;
}

// What the book says of the balloon's cylinders.
Result<void> remember(sheet::Morning& morning, const std::string& balloon_path, const BookLook& look) {
  if (look.none || look.stores == nullptr) return {};
  const BookAsked asked{.balloon_file = balloon_path, .book = look.book, .now = morning.as_of};
  const auto store = open_book(asked, Stores::Open::read_only, look.stores);
  if (!store) {
    if (store.error().code == Errc::not_found && !look.book) return {};
    return tl::unexpected{store.error()};
  }
  const auto history = cylinder_history(**store, subject_of(morning.balloon));
  if (!history) return tl::unexpected{history.error()};
  morning.book = look.book ? *look.book : default_book(balloon_path);
  const auto learned = learned_from(*history, morning.as_of.at, morning.as_of.offset);
  if (!learned) return tl::unexpected{learned.error()};
  morning.learned = learned->figures;
  for (const balloon::Cylinder& cylinder : morning.balloon.cylinders)
    morning.remembered.push_back({cylinder.id, recalled(*history, cylinder.id, morning.as_of.at)});
  return {};
}

}  // namespace

Parsed<sheet::Morning> open_flight(const std::string& path, const Files& files, const Clock& clock,
                                   const std::optional<Moment>& now, const BookLook& look) {
  Parsed<sheet::Morning> out;
  const auto flight_text = files.read(path);
  if (!flight_text) {
    out.issues.push_back(flight_text.error());
    return out;
  }
  auto flight = text::parse_flight(*flight_text, path,
                                   [&](const std::string& beside) { return files.read(files.beside(path, beside)); });
  take_issues(out.issues, flight);
  if (!flight.value) return out;

  const std::string balloon_path = files.beside(path, flight.value->balloon);
  const auto balloon_text = read_named(path, "balloon", balloon_path, files, out.issues);
  if (!balloon_text) return out;
  auto balloon = text::parse_balloon(*balloon_text, balloon_path);
  take_issues(out.issues, balloon);
  if (!balloon.value) return out;

  const sheet::Flight& read = flight.value->flight;
  Moment as_of{clock.now(), read.time.offset};
  if (read.as_of) as_of = *read.as_of;
  if (now) as_of = *now;
  if (const auto& named = flight.value->pilot_file) {
    const std::string pilot_path = files.beside(path, *named);
    const auto pilot_text = read_named(path, "pilot_file", pilot_path, files, out.issues);
    if (!pilot_text) return out;
    auto pilot = text::parse_pilot(*pilot_text, pilot_path, as_of.date());
    take_issues(out.issues, pilot);
    if (!pilot.value) return out;
    text::fill_from(flight.value->flight, *pilot.value);
  }
  std::vector<Issue> crossed = text::cross_check(*balloon.value, *flight.value, as_of.at);
  std::move(crossed.begin(), crossed.end(), std::back_inserter(out.issues));
  if (!std::all_of(out.issues.begin(), out.issues.end(), text::is_warning)) return out;

  sheet::Morning morning;
  morning.balloon = *std::move(balloon.value);
  morning.flight = std::move(flight.value->flight);
  morning.as_of = as_of;
  if (auto ok = remember(morning, balloon_path, look); !ok) {
    out.issues.push_back(ok.error());
    return out;
  }
  out.value = std::move(morning);
  return out;
}

}  // namespace pappus::desk
