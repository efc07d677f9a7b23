#include "faces/cli/ask.hpp"

#include <algorithm>
#include <csignal>
#include <cstdio>
#include <ctime>
#include <optional>
#include <string>
#include <utility>

#include <poll.h>
#include <unistd.h>

#include "core/sheet/flight_sheet.hpp"
#include "desk/ask.hpp"
#include "desk/open_flight.hpp"
#include "faces/cli/call.hpp"
#include "faces/cli/show.hpp"
#include "formats/text/pilot/balloon_file.hpp"

namespace pappus::cli {
namespace {

constexpr std::size_t kLongestLine = 65536;      // what is longer is cut: no person types it
constexpr std::size_t kLongestPaste = 1u << 20;  // the rest is read and dropped
constexpr std::size_t kIndent = 5;

// ---- reading

// The next line without its end; none at the end of the input. Control characters become blanks: they are keys that the
// terminal did not understand, and what they would do to it later is nobody's wish.
std::optional<std::string> read_line(std::FILE* in) {
  std::string line;
  int c = std::fgetc(in);
  if (c == EOF) return std::nullopt;
  for (; c != EOF && c != '\n'; c = std::fgetc(in))
    if (line.size() < kLongestLine) line += c < 0x20 || c == 0x7F ? ' ' : static_cast<char>(c);
  return line;
}

// Whether a terminal holds more input at this moment: then it was pasted, as nobody types so fast.
bool more_is_waiting(std::FILE* in) {
  constexpr int settle_ms = 60;
  const int file = fileno(in);
  if (isatty(file) != 1) return false;
  pollfd wanted{file, POLLIN, 0};
  return poll(&wanted, 1, settle_ms) == 1 && (wanted.revents & POLLIN) != 0;
}

// Up to an empty line. One within a paste does not end it: pages of forecasts are full of them.
std::optional<std::string> read_lines(std::FILE* in) {
  std::string text;
  while (true) {
    const std::optional<std::string> line = read_line(in);
    if (!line) return std::nullopt;
    const bool empty = line->find_first_not_of(' ') == std::string::npos;
    if (empty && !more_is_waiting(in)) return text;
    if (text.size() < kLongestPaste) text += *line + "\n";
    // An answer of one word, such as the one that goes back, is complete by itself.
    if (*line == desk::kGoBack) return text;
  }
}

// ---- one round

void print(const Call& call, const std::string& text) { std::fwrite(text.data(), 1, text.size(), call.err()); }

void print_paragraph(const Call& call, const Sentence& sentence, std::size_t indent, std::string_view lead = {}) {
  Terminal to{false};
  to.paragraph(words::worded(sentence, call.reader()), indent, lead);
  print(call, to.text());
}

void print_prompt(const Call& call, const desk::Prompt& prompt) {
  Terminal shown{false};
  shown.line();
  std::string lead = right(std::to_string(prompt.number), 3) + ".";
  // The question, then what an answer looks like, on lines of their own.
  const std::string text = words::worded(prompt.question, call.reader());
  for (std::string_view left = text; !left.empty();) {
    const std::size_t end = std::min(left.find('\n'), left.size());
    shown.paragraph(left.substr(0, end), kIndent, std::exchange(lead, std::string{}));
    left.remove_prefix(std::min(end + 1, left.size()));
  }
  print(call, shown.text());
  const std::string margin(kIndent, ' ');
  if (!prompt.remembered) return print(call, margin + "> ");
  const std::string held = "[" + *prompt.remembered + "]";
  constexpr std::size_t room_to_answer = 30;
  if (kIndent + columns(held) + room_to_answer <= kWidth) return print(call, margin + held + " > ");
  Terminal to{false};
  to.paragraph(held, kIndent, margin);
  print(call, to.text() + margin + "> ");
}

void print_heard(const Call& call, const desk::Heard& heard) {
  for (const Issue& issue : heard.issues) {
    Terminal to{false};
    to.paragraph(words::worded(issue, call.reader()), kIndent, heard.taken ? "   -" : "   !");
    print(call, to.text());
  }
  for (const Sentence& note : heard.notes) print_paragraph(call, note, kIndent, "   -");
}

// False at the end of the input.
bool ask_all(const Call& call, desk::Round& round) {
  while (const std::optional<desk::Prompt> prompt = round.next()) {
    print_prompt(call, *prompt);
    const std::optional<std::string> typed = prompt->several_lines ? read_lines(call.in()) : read_line(call.in());
    if (!typed) {
      print(call, "\n");
      return false;
    }
    print_heard(call, round.answer(*typed));
  }
  return true;
}

// ---- files

// While it lives, signals that would end the program wait: it is a matter of milliseconds.
class Undisturbed {
 public:
  Undisturbed() {
    sigset_t ending;
    sigemptyset(&ending);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&ending, signal);
    sigprocmask(SIG_BLOCK, &ending, &before_);
  }
  ~Undisturbed() { sigprocmask(SIG_SETMASK, &before_, nullptr); }
  Undisturbed(const Undisturbed&) = delete;
  Undisturbed& operator=(const Undisturbed&) = delete;

 private:
  sigset_t before_{};
};

struct OldFile {
  std::string path;
  std::optional<std::string> text;  // none where there is no such file
};

Result<OldFile> old_file(const Call& call, const std::string& path) {
  auto text = call.files().read(path);
  if (text) return OldFile{path, *std::move(text)};
  if (text.error().code == Errc::not_found) return OldFile{path, std::nullopt};
  return tl::unexpected{text.error()};
}

// "flight-2027-05-16T0510.toml" beside "flight.toml"; with a number where another file has that name.
std::string dated(const std::string& path, const Moment& time, int number) {
  const std::string stem = path.substr(0, path.size() - std::string_view{".toml"}.size());
  std::string stamp = iso8601(time).substr(0, 16);
  stamp.erase(13, 1);
  return stem + "-" + stamp + (number > 1 ? "-" + std::to_string(number) : "") + ".toml";
}

// Where the old text now stands.
Result<std::string> keep(const Call& call, const OldFile& old, const Moment& time) {
  constexpr int most = 99;
  for (int number = 1; number <= most; ++number) {
    const std::string path = dated(old.path, time, number);
    const auto there = call.files().read(path);
    if (there && *there == *old.text) return path;
    if (there || there.error().code != Errc::not_found) continue;
    const auto written = call.files().write(path, *old.text, *old.text);
    if (!written) return tl::unexpected{written.error()};
    return path;
  }
  Issue issue;
  issue.code = Errc::conflict;
  issue.sentence = say("issue.ask_names_used");
  issue.where.file = dated(old.path, time, 1);
  return tl::unexpected{std::move(issue)};
}

// Writes the new text where the old one stood, and says so. `time` dates the old one.
Result<void> replace(const Call& call, const OldFile& old, const std::string& text, const Moment& time) {
  const Undisturbed undisturbed;
  print(call, "\n");
  std::optional<std::string> kept;
  if (old.text && !old.text->empty() && *old.text != text) {
    auto path = keep(call, old, time);
    if (!path) return tl::unexpected{path.error()};
    kept = *std::move(path);
  }
  // Only what was read before the questions may be replaced, or an empty file.
  auto written = call.files().write(old.path, text, old.text && !old.text->empty() ? *old.text : text);
  if (!written) {
    Issue issue = written.error();
    if (issue.code == Errc::conflict) issue.sentence = say("issue.ask_changed");
    return tl::unexpected{std::move(issue)};
  }
  print_paragraph(call, say("ask.written", {{"file", old.path}}), 0);
  if (kept) print_paragraph(call, say("ask.kept", {{"file", *kept}}), 0);
  return {};
}

int stopped(Call& call, const std::string& path) {
  Issue issue;
  issue.code = Errc::cancelled;
  issue.sentence = say("issue.ask_stopped", {{"file", path}});
  return call.fail_with(std::move(issue));
}

// The answers are not lost where the file can't be written.
int unwritten(Call& call, Issue issue, const std::string& text) {
  print(call, "\n" + text + "\n");
  return call.fail_with(std::move(issue));
}

// ---- the call

Moment present(const Call& call) {
  if (const auto now = call.now()) return *now;
  const Instant now = call.clock().now();
  const std::time_t seconds = static_cast<std::time_t>(now.unix_milliseconds() / 1000);
  std::tm local{};
  localtime_r(&seconds, &local);
  return {Instant::from_unix_milliseconds(static_cast<std::int64_t>(seconds) * 1000),
          UtcOffset{static_cast<int>(local.tm_gmtoff / 60)}};
}

int show_sheet(Call& call, const std::string& path) {
  auto morning = desk::open_flight(path, call.files(), call.clock(), call.now(), {.stores = call.stores()});
  if (!morning.value) {
    call.refuse(std::move(morning.issues));
    return call.tell_issues();
  }
  call.reader().offset = morning.value->as_of.offset;
  if (!call.json()) print(call, "\n");
  return call.tell(sheet::sheet(*morning.value),
                   [](Terminal& to, const sheet::FlightSheet& s, const words::Reader& reader) { show(to, s, reader); });
}

struct Balloon {
  std::string named;  // as the flight file names it
  OldFile file;
};

// The balloon that last time's flight names, else balloon.toml in the folder.
Result<Balloon> find_balloon(const Call& call, const OldFile& flight) {
  if (const auto named = flight.text ? desk::balloon_named_in(*flight.text) : std::nullopt) {
    auto file = old_file(call, call.files().beside(flight.path, *named));
    if (!file) return tl::unexpected{file.error()};
    if (file->text) return Balloon{*named, *std::move(file)};
  }
  const std::string usual = "balloon.toml";
  auto file = old_file(call, call.files().beside(flight.path, usual));
  if (!file) return tl::unexpected{file.error()};
  return Balloon{usual, *std::move(file)};
}

}  // namespace

int run_ask(Call& call) {
  if (call.positionals().size() > 1) {
    Issue issue;
    issue.code = Errc::bad_call;
    issue.sentence = say("issue.call_unreadable", {{"verb", "ask"}});
    issue.got = call.positionals()[1];
    issue.wanted = "pappus ask --help";
    call.refuse(std::move(issue));
  }
  if (call.refused()) return call.tell_issues();
  const std::string folder = call.positionals().empty() ? "." : call.positionals().front();
  // A folder can't be read as a file; one that is not there is told before the questions, not after.
  if (const auto there = call.files().read(folder); there || there.error().code == Errc::not_found) {
    Issue issue;
    issue.code = Errc::not_found;
    issue.sentence = say("issue.ask_folder");
    issue.where.file = folder;
    return call.fail_with(std::move(issue));
  }
  const auto flight = old_file(call, call.files().beside(folder + "/.", "flight.toml"));
  if (!flight) return call.fail_with(flight.error());
  const auto found = find_balloon(call, *flight);
  if (!found) return call.fail_with(found.error());

  const Moment now = present(call);
  call.reader().offset = now.offset;
  std::optional<balloon::Balloon> balloon;
  if (found->file.text) {
    auto parsed = text::parse_balloon(*found->file.text, found->file.path);
    if (!parsed.value) {
      call.refuse(std::move(parsed.issues));
      return call.tell_issues();
    }
    balloon = *std::move(parsed.value);
  }
  print_paragraph(call, say("ask.how"), 0);
  if (!balloon || call.given("--balloon")) {
    print(call, "\n");
    print_paragraph(call, say(balloon ? "ask.balloon_again" : "ask.balloon_first", {{"file", found->file.path}}), 0);
    desk::BalloonRound round{{.reader = call.reader(), .last = balloon}};
    if (!ask_all(call, round)) return stopped(call, found->file.path);
    const std::string text = round.file();
    if (const auto written = replace(call, found->file, text, now); !written)
      return unwritten(call, written.error(), text);
    balloon = text::parse_balloon(text, found->file.path).value;
  }

  desk::FlightRound round{
      {.balloon = *balloon, .balloon_path = found->named, .now = now, .reader = call.reader(), .last = flight->text}};
  print(call, "\n");
  print_paragraph(call, say("ask.flight", {{"balloon", balloon->name}, {"file", flight->path}}), 0);
  for (Issue issue : round.forgotten()) {
    issue.where.file = flight->path;
    print_heard(call, {false, {std::move(issue)}, {}});
  }
  if (!ask_all(call, round)) return stopped(call, flight->path);
  const std::string text = round.file();
  const Moment dated_by = flight->text ? desk::lift_off_in(*flight->text).value_or(now) : now;
  if (const auto written = replace(call, *flight, text, dated_by); !written)
    return unwritten(call, written.error(), text);
  return show_sheet(call, flight->path);
}

}  // namespace pappus::cli
