/// `pappus ask`: the questions of a morning as data, one after the other, and what is remembered between mornings.
///
/// A round asks; a face shows its prompts and hands in what was typed; at its end it gives the text of a file. Nothing
/// here knows a terminal. Each answer is held at once against the whole file as it would be read back, so that a round
/// that has come to its end gives a file that stands, and a wrong answer is told where it was given.
///
///     desk::FlightRound round{{.balloon = balloon, .balloon_path = "balloon.toml", .now = now, .reader = reader}};
///     while (const auto prompt = round.next()) round.answer(typed(*prompt));
///     files.write("flight.toml", round.file(), before);
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/sentence.hpp"
#include "formats/text/pilot/flight_write.hpp"
#include "words/words.hpp"

namespace pappus::desk {

/// A round has at most so many questions.
inline constexpr int kMostQuestions = 12;

/// One question as it is to be shown.
struct Prompt {
  std::string key;                        // stable: "fuel_temperature"
  int number = 1;                         // counts the questions that are asked
  Sentence question;                      // with its unit and an example
  std::optional<std::string> remembered;  // what an empty answer takes
  bool may_stay_blank = false;            // an empty answer leaves it not known
  bool several_lines = false;             // the answer goes on until an empty line
};

/// What came of an answer.
struct Heard {
  bool taken = false;
  std::vector<Issue> issues = {};  // why it is asked again; where it was taken, what a paste held and nobody understood
  std::vector<Sentence> notes = {};  // how it was understood, where that is not plain
};

/// The answer that goes back to the question before.
inline constexpr std::string_view kGoBack = "<";

class Round {
 public:
  virtual ~Round() = default;
  /// The question that stands open; none at the end.
  [[nodiscard]] std::optional<Prompt> next() const;
  /// Hears the answer to next(): taken, or told why not, and the same question stands again. `kGoBack` opens the one
  /// before again, with all that was said since taken back.
  /// Domain    next() gives a question.
  Heard answer(std::string_view typed);
  /// The file. Domain: next() gives none.
  [[nodiscard]] virtual std::string file() const = 0;

 protected:
  Round() = default;
  Round(const Round&) = default;
  Round& operator=(const Round&) = default;
  Round(Round&&) = default;
  Round& operator=(Round&&) = default;

  [[nodiscard]] virtual int steps() const = 0;
  /// Whether a step is to be asked, after what was said before it.
  [[nodiscard]] virtual bool is_asked(int step) const = 0;
  /// The question of a step; next() numbers it.
  [[nodiscard]] virtual Prompt prompt(int step) const = 0;
  /// An answer. An empty one comes here only where it may have several lines; else, where the prompt allows it, it
  /// leaves the draft as it is.
  virtual Heard read(int step, std::string_view typed) = 0;
  /// An example of an answer, for the issue that one is needed.
  [[nodiscard]] virtual std::string example(int step) const = 0;
  /// The draft is kept for going back; the last kept is forgotten; or taken again.
  virtual void keep() = 0;
  virtual void forget() = 0;
  virtual void restore() = 0;

 private:
  [[nodiscard]] int first_asked(int from) const;

  int step_ = 0;
  std::vector<int> answered_;
};

/// The part of a round that holds what was said so far.
template <class Draft>
class DraftedRound : public Round {
 protected:
  DraftedRound() = default;
  explicit DraftedRound(Draft draft) : draft_{std::move(draft)} {}
  Draft draft_;

 private:
  void keep() final { before_.push_back(draft_); }
  void forget() final { before_.pop_back(); }
  void restore() final {
    draft_ = std::move(before_.back());
    before_.pop_back();
  }
  std::vector<Draft> before_;
};

/// What a round about a flight starts from.
struct FlightRoundInputs {
  balloon::Balloon balloon;
  std::string balloon_path;  // as the flight file shall name it
  Moment now;
  words::Reader reader;                            // in whose units a bare number is read
  std::optional<std::string> last = std::nullopt;  // the flight file of last time
};

/// What was said of a flight so far. What is not known yet is stood in for by something that a file may hold.
struct FlightDraft {
  text::FlightFile file;
  std::vector<text::Pasted> pasted = {};
  std::vector<text::TomlMember> kept = {};  // of last time's file, as it stands
  bool field_known = false, time_known = false, planned_known = false, aboard_known = false;
  bool qnh_reported = false;
  std::optional<Instant> sunrise = std::nullopt;  // of the day of lift-off, at the field
};

/// At most twelve questions for a flight in a known balloon.
///
/// Remembered  of last time: who flies, the field with its airspace, the planned time, the highest height and the rules,
///             as answers that an empty line takes; pilot_file and the tables [pilot], [minimum], [[place]], [landing]
///             and [[tripwire]] as they stand. Never: winds, reports, looks, fuel and its temperature, the altimeter
///             setting, times, acceptances and answers about fitness: they age.
/// Units       a bare number is in the reader's unit: lb, gal, ft and mi, or kg, L, m and km; wind in kt, time in min.
/// Laws        the file stands: parse_flight() and cross_check() find nothing in it that is more than a warning.
class FlightRound final : public DraftedRound<FlightDraft> {
 public:
  explicit FlightRound(FlightRoundInputs inputs);
  /// What of last time's file could not be remembered.
  [[nodiscard]] const std::vector<Issue>& forgotten() const { return forgotten_; }
  [[nodiscard]] std::string file() const override;

 private:
  int steps() const override;
  bool is_asked(int step) const override;
  Prompt prompt(int step) const override;
  Heard read(int step, std::string_view typed) override;
  std::string example(int step) const override;

  Heard read_field(std::string_view typed);
  Heard read_time(std::string_view typed);
  Heard read_planned(std::string_view typed);
  Heard read_aboard(std::string_view typed);
  Heard read_fuel(std::string_view typed);
  Heard read_fuel_temperature(std::string_view typed);
  Heard read_highest(std::string_view typed);
  Heard read_reports(std::string_view typed);
  Heard read_winds(std::string_view typed);
  Heard read_looks(std::string_view typed);
  Heard read_rules(std::string_view typed);
  Heard read_qnh(std::string_view typed);

  void remember(const std::string& last);
  /// Leaves out of what is kept all that does not hold (any more); gives an issue for each.
  static std::vector<Issue> drop_what_fails(FlightDraft& draft, text::Taste taste);
  void propose_time(FlightDraft& draft) const;
  [[nodiscard]] std::string written(const FlightDraft& draft) const;
  /// Takes the draft if the file made of it stands.
  Heard take(FlightDraft draft, std::vector<Sentence> notes = {});
  [[nodiscard]] bool is_us() const { return inputs_.reader.units == words::Units::us; }
  [[nodiscard]] text::Taste taste() const { return is_us() ? text::Taste::us : text::Taste::metric; }

  FlightRoundInputs inputs_;
  std::vector<Issue> forgotten_;
  std::vector<std::string> good_winds_;  // lines that need not be typed again
};

/// The path under which a flight file names its balloon; none where that cannot be read.
[[nodiscard]] std::optional<std::string> balloon_named_in(std::string_view flight_toml);

/// The time of lift-off that a flight file gives, by which it is kept; none where that cannot be read.
[[nodiscard]] std::optional<Moment> lift_off_in(std::string_view flight_toml);

/// What a round about a balloon starts from: its file, where there is one.
struct BalloonRoundInputs {
  words::Reader reader;
  std::optional<balloon::Balloon> last = std::nullopt;
};

/// What was said of a balloon so far.
struct BalloonDraft {
  balloon::Balloon balloon;  // what was not said yet is stood in for by the least that a file may hold
};

/// At most twelve questions for a balloon: what a sheet cannot do without, and the limits of its flight manual.
///
/// Remembered  everything of the balloon that it had: what is not asked (lines, dates, markings) stays as it was.
/// Laws        the file stands: parse_balloon() finds nothing in it.
class BalloonRound final : public DraftedRound<BalloonDraft> {
 public:
  explicit BalloonRound(BalloonRoundInputs inputs);
  [[nodiscard]] std::string file() const override;

 private:
  int steps() const override;
  bool is_asked(int step) const override;
  Prompt prompt(int step) const override;
  Heard read(int step, std::string_view typed) override;
  std::string example(int step) const override;

  Heard take(balloon::Balloon balloon);
  [[nodiscard]] bool is_us() const { return inputs_.reader.units == words::Units::us; }
  [[nodiscard]] text::Taste taste() const { return is_us() ? text::Taste::us : text::Taste::metric; }

  BalloonRoundInputs inputs_;
};

}  // namespace pappus::desk
