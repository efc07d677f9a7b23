#include "desk/book_answer.hpp"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <utility>
#include <variant>

#include "core/balloon/vessel.hpp"
#include "core/base/nearest.hpp"
#include "core/base/refusal.hpp"
#include "core/book/flight_records.hpp"
#include "core/propane/saturation.hpp"
#include "desk/book_events.hpp"
#include "desk/cylinder_answer.hpp"
#include "desk/foretold.hpp"
#include "desk/open_flight.hpp"
#include "formats/text/pilot/balloon_file.hpp"

namespace pappus::desk {
namespace {

using book::FillEvent;
using book::FlightEvent;
using book::LevelTestEvent;
using book::WeighingEvent;

constexpr std::size_t kLastEvents = 10;
constexpr Temperature kColdest = celsius(-40.0), kWarmest = celsius(50.0);  // as account() takes a fill

Issue option_issue(std::string key, std::string option, std::string got = {}, std::string wanted = {}) {
  return {Errc::bad_call, say(std::move(key)), {{}, 0, 0, std::move(option)}, std::move(got), std::move(wanted)};
}
Issue missing(std::string option, std::string wanted) {
  Issue issue = option_issue({}, std::move(option), {}, std::move(wanted));
  issue.sentence = say("issue.option_missing", {{"verb", std::string("book")}});
  return issue;
}

Measure whole(std::int64_t n) { return measure::count(static_cast<double>(n)); }

Moment present(const BookAsked& asked, const Clock& clock) {
  return asked.now ? *asked.now : Moment{clock.now(), UtcOffset{}};
}

std::string path_of(const BookAsked& asked) { return asked.book ? *asked.book : default_book(asked.balloon_file); }

std::string joined(const std::vector<std::string>& ids) {
  std::string out;
  for (const std::string& id : ids) (out += out.empty() ? "" : ", ") += id;
  return out;
}

// --- words

Sentence filled_words(const FillEvent& fill) {
  if (fill.weighed)
    return say("book_event.fill_weighed", {{"cylinder", fill.cylinder}, {"mass", measure::of(*fill.weighed)}});
  const book::LiquidBand band = fill.liquid.value_or(book::LiquidBand{});
  if (band.coldest == band.warmest)
    return say("book_event.fill_at", {{"cylinder", fill.cylinder}, {"at", measure::of(band.coldest)}});
  return say(
      "book_event.fill_between",
      {{"cylinder", fill.cylinder}, {"coldest", measure::of(band.coldest)}, {"warmest", measure::of(band.warmest)}});
}
Sentence flown_words(const FlightEvent& flight) {
  std::vector<std::string> ids;
  Mass drawn;
  bool all_noted = true;
  for (const book::CylinderUse& use : flight.open) {
    ids.push_back(use.cylinder);
    drawn = drawn + use.drawn.value_or(Mass{});
    all_noted = all_noted && use.drawn;
  }
  if (flight.burnt)
    return say(
        "book_event.flight_burnt",
        {{"aloft", measure::of(flight.aloft)}, {"cylinders", joined(ids)}, {"mass", measure::of(flight.burnt->fuel)}});
  if (all_noted)
    return say("book_event.flight_drawn",
               {{"aloft", measure::of(flight.aloft)}, {"cylinders", joined(ids)}, {"mass", measure::of(drawn)}});
  return say("book_event.flight", {{"aloft", measure::of(flight.aloft)}, {"cylinders", joined(ids)}});
}
Sentence tested_words(const LevelTestEvent& test) {
  if (!test.tube_attitude) return say("book_event.level_other_attitude", {{"cylinder", test.cylinder}});
  if (test.valve == propane::Valve::liquid) return say("book_event.level_liquid", {{"cylinder", test.cylinder}});
  return say("book_event.level_vapour", {{"cylinder", test.cylinder}});
}
Sentence words_of(const Happening& what) {
  struct Worded {
    Sentence operator()(const FillEvent& e) const { return filled_words(e); }
    Sentence operator()(const FlightEvent& e) const { return flown_words(e); }
    Sentence operator()(const WeighingEvent& e) const {
      return say("book_event.weighing", {{"cylinder", e.cylinder}, {"mass", measure::of(e.weighed)}});
    }
    Sentence operator()(const LevelTestEvent& e) const { return tested_words(e); }
  };
  return std::visit(Worded{}, what);
}

EntryLine line_of(const Event& event, UtcOffset offset) {
  const auto what = read_body(event.what.kind, event.what.body);
  return {.number = event.number,
          .happened = {event.what.happened, offset},
          .by = event.what.author,
          .kind = event.what.kind,
          .what = what ? words_of(*what) : say("book_event.not_understood"),
          .corrects = event.what.corrects,
          .chain = event.chain.substr(0, 12)};
}

// --- from what was said to events

class Checked {
 public:
  Checked(const balloon::Balloon& balloon, std::vector<Issue>& issues) : balloon_{balloon}, issues_{issues} {}

  std::vector<Happening> events(const SaidFill& said) {
    if (!said.liquid && !said.weighed)
      refuse(missing("--filled-at", "--filled-at 12C, --filled-between 5C 15C or --weighed 46kg"));
    if (said.liquid) {
      check(said.liquid->coldest);
      if (said.liquid->warmest != said.liquid->coldest) check(said.liquid->warmest);
    }
    std::vector<Happening> out;
    for (const balloon::Cylinder* cylinder : cylinders(said.cylinders)) {
      if (said.weighed) check(*said.weighed, *cylinder);
      out.emplace_back(FillEvent{.cylinder = cylinder->id, .liquid = said.liquid, .weighed = said.weighed});
    }
    if (said.weighed && said.cylinders.size() > 1)
      refuse(option_issue("issue.book_one_cylinder", "--weighed", joined(said.cylinders), "one --cylinder"));
    return out;
  }

  std::vector<Happening> events(const SaidFlight& said) {
    if (!(said.aloft >= 1.0 * second && said.aloft <= 24.0 * hour))
      issues_.push_back({Errc::bad_input,
                         say("issue.book_aloft"),
                         {{}, 0, 0, "--aloft"},
                         written(measure::of(said.aloft)),
                         "1s to 24h"});
    FlightEvent flight{.aloft = said.aloft, .open = {}};
    const std::vector<const balloon::Cylinder*> open = cylinders(said.cylinders);
    for (const balloon::Cylinder* cylinder : open) flight.open.push_back({cylinder->id});
    note_burnt(flight, said, open);
    note_crown(flight, said);
    if (said.drawn) {
      if (said.cylinders.size() > 1)
        refuse(option_issue("issue.book_one_cylinder", "--drawn", joined(said.cylinders), "one --cylinder"));
      if (!said.temperature)
        refuse(missing("--temperature", "the temperature of the liquid, such as --temperature 8C"));
      else if (flight.open.size() == 1)
        note_drawn(flight.open.front(), *said.drawn, *said.temperature);
    } else if (said.temperature && !by_volume(said)) {
      refuse(missing("--drawn", "what was drawn, such as --drawn 3gal, or burnt, such as --burnt 9gal"));
    }
    return {flight};
  }

  std::vector<Happening> events(const SaidWeighing& said) {
    if (said.cylinders.size() > 1)
      refuse(option_issue("issue.book_one_cylinder", "--weighed", joined(said.cylinders), "one --cylinder"));
    std::vector<Happening> out;
    for (const balloon::Cylinder* cylinder : cylinders(said.cylinders)) {
      check(said.weighed, *cylinder);
      out.emplace_back(WeighingEvent{cylinder->id, said.weighed});
    }
    return out;
  }

  std::vector<Happening> events(const SaidLevelTest& said) {
    check(said.temperature);
    std::vector<Happening> out;
    for (const balloon::Cylinder* cylinder : cylinders(said.cylinders))
      out.emplace_back(LevelTestEvent{.cylinder = cylinder->id,
                                      .valve = said.valve,
                                      .liquid = {said.temperature, said.temperature},
                                      .tube_attitude = !said.other_attitude});
    return out;
  }

 private:
  void refuse(Issue issue) { issues_.push_back(std::move(issue)); }

  std::vector<const balloon::Cylinder*> cylinders(const std::vector<std::string>& ids) {
    std::vector<std::string_view> known;
    for (const balloon::Cylinder& c : balloon_.cylinders) known.push_back(c.id);
    std::string all;
    for (const std::string_view id : known) (all += all.empty() ? "" : ", ") += id;
    if (ids.empty()) refuse(missing("--cylinder", all));
    std::vector<const balloon::Cylinder*> out;
    for (std::size_t i = 0; i < ids.size(); ++i) {
      if (std::find(ids.begin(), ids.begin() + static_cast<std::ptrdiff_t>(i), ids[i]) !=
          ids.begin() + static_cast<std::ptrdiff_t>(i)) {
        refuse(option_issue("issue.book_twice", "--cylinder", ids[i], "each once"));
        continue;
      }
      const auto found = std::find(known.begin(), known.end(), ids[i]);
      if (found != known.end()) {
        out.push_back(&balloon_.cylinders[static_cast<std::size_t>(found - known.begin())]);
        continue;
      }
      Issue issue =
          option_issue("issue.fuel_cylinder_unknown", "--cylinder", ids[i], std::string(nearest(ids[i], known)));
      issue.code = Errc::not_found;
      if (issue.wanted.empty()) issue.wanted = all;
      refuse(std::move(issue));
    }
    return out;
  }

  void check(Temperature t) {
    if (t >= kColdest && t <= kWarmest) return;
    refuse(refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdest), measure::of(kWarmest))
               .value());
  }

  // A slip of the hand: less than the empty cylinder, or more than a shell full of liquid.
  void check(Mass weighed, const balloon::Cylinder& cylinder) {
    const auto cold = propane::saturation_at(kColdest);
    if (!cold) return refuse(cold.error());
    const propane::ReadingErrors errors;
    const Mass least = cylinder.tare - errors.scale, most = cylinder.tare + cold->liquid_density * cylinder.shell;
    if (weighed >= least && weighed <= most) return;
    issues_.push_back({Errc::bad_input,
                       say("issue.book_weight"),
                       {{}, 0, 0, "--weighed"},
                       written(measure::of(weighed)),
                       written(measure::of(cylinder.tare)) + " to " + written(measure::of(most))});
  }

  static bool by_volume(const SaidFlight& said) { return said.burnt && std::holds_alternative<Volume>(*said.burnt); }

  void note_burnt(FlightEvent& flight, const SaidFlight& said, const std::vector<const balloon::Cylinder*>& open) {
    if (!said.burnt || open.empty()) return;
    const book::RecordErrors errors;
    if (!by_volume(said)) {
      flight.burnt = book::burnt_by_weight(std::get<Mass>(*said.burnt), open.size(), errors);
    } else if (!said.temperature) {
      return refuse(missing("--temperature", "the temperature of the liquid, such as --temperature 8C"));
    } else {
      check(*said.temperature);
      if (!issues_.empty()) return;
      const auto liquid = propane::saturation_at(*said.temperature);
      if (!liquid) return refuse(liquid.error());
      const Mass fuel = liquid->liquid_density * std::get<Volume>(*said.burnt);
      flight.burnt = book::BurntNoted{fuel, errors.volume * fuel};
    }
    const auto cold = propane::saturation_at(kColdest);
    if (!cold) return refuse(cold.error());
    Mass most;
    for (const balloon::Cylinder* cylinder : open) most += cold->liquid_density * cylinder->shell;
    constexpr Mass least = 0.1 * kilogram;
    if (flight.burnt->fuel >= least && flight.burnt->fuel <= most) return;
    issues_.push_back({Errc::bad_input,
                       say("issue.book_burnt"),
                       {{}, 0, 0, "--burnt"},
                       written(measure::of(flight.burnt->fuel)),
                       written(measure::of(least)) + " to " + written(measure::of(most))});
  }

  void note_crown(FlightEvent& flight, const SaidFlight& said) {
    if (!said.crown) {
      if (said.crown_error) refuse(missing("--crown", "what the crown read, such as --crown 96C"));
      return;
    }
    const book::CrownNoted crown{*said.crown, said.crown_error.value_or(book::RecordErrors{}.crown)};
    const auto within = [&](const char* option, Measure value, Measure low, Measure high) {
      if (value.si >= low.si && value.si <= high.si) return;
      issues_.push_back({Errc::bad_input,
                         say("issue.book_crown"),
                         {{}, 0, 0, option},
                         written(value),
                         written(low) + " to " + written(high)});
    };
    within("--crown", measure::of(crown.hottest), measure::of(celsius(0.0)), measure::of(celsius(200.0)));
    within("--crown-error", measure::of(crown.error), measure::of(0.1 * kelvin), measure::of(30.0 * kelvin));
    flight.crown = crown;
  }

  void note_drawn(book::CylinderUse& use, Volume drawn, Temperature liquid) {
    check(liquid);
    if (!issues_.empty()) return;
    const propane::ReadingErrors errors;
    const auto mass =
        drawn_by_volume(drawn, std::max(liquid - errors.thermometer, kColdest), liquid + errors.thermometer);
    if (!mass) return refuse(mass.error());
    for (const balloon::Cylinder& c : balloon_.cylinders)
      if (c.id == use.cylinder && drawn > c.shell)
        return refuse(refuse_outside("propane.liquid_outside", measure::liquid(drawn), measure::liquid(Volume{}),
                                     measure::liquid(c.shell))
                          .value());
    use.drawn = mass->mass;
    use.error = mass->error;
  }

  const balloon::Balloon& balloon_;
  std::vector<Issue>& issues_;
};

// What was foretold for the flight file goes into the event, and what was not into a note. Warnings of the file are
// kept for later: they hold nothing up.
void compare(FlightEvent& flight, const SaidFlight& said, const std::string& subject, const Files& files,
             const Clock& clock, std::vector<Sentence>& notes, std::vector<Issue>& issues,
             std::vector<Issue>& warnings) {
  if (!said.as) {
    if (said.burnt || said.crown) notes.push_back(say("book_note.not_foretold"));
    return;
  }
  auto morning = open_flight(*said.as, files, clock, std::nullopt);
  if (!morning.value) {
    std::move(morning.issues.begin(), morning.issues.end(), std::back_inserter(issues));
    return;
  }
  if (const std::string other = subject_of(morning.value->balloon); other != subject) {
    issues.push_back({Errc::bad_input, say("issue.book_other_balloon"), {*said.as, 0, 0, "balloon"}, other, subject});
    return;
  }
  const auto told = foretold(*morning.value, flight.aloft);
  if (!told) {
    Issue issue = told.error();
    if (issue.where.file.empty()) issue.where.file = *said.as;
    issues.push_back(std::move(issue));
    return;
  }
  warnings = std::move(morning.issues);
  flight.foretold = told->foretold;
  const book::Foretold& f = told->foretold;
  if (flight.burnt)
    notes.push_back(
        say("book_note.burnt_and_foretold", {{"burnt", measure::of(flight.burnt->fuel)},
                                             {"fuel", measure::of(f.fuel)},
                                             {"loss", measure::ratio(1.0 + (flight.burnt->fuel - f.fuel) / f.loss)}}));
  else
    notes.push_back(say("book_note.foretold", {{"fuel", measure::of(f.fuel)}}));
  if (flight.crown)
    notes.push_back(say("book_note.crown_and_mean", {{"crown", measure::of(flight.crown->hottest)},
                                                     {"mean", measure::of(f.mean_needed)},
                                                     {"excess", measure::of(flight.crown->hottest - f.mean_needed)}}));
  if (!told->load_known) notes.push_back(say("book_note.load_as_full"));
  if (told->temperature_assumed) notes.push_back(say("book_note.air_assumed"));
}

}  // namespace

std::string default_book(std::string_view balloon_file) {
  constexpr std::string_view ending = ".toml";
  if (balloon_file.size() > ending.size() && balloon_file.substr(balloon_file.size() - ending.size()) == ending)
    balloon_file.remove_suffix(ending.size());
  return std::string(balloon_file) + ".book";
}

std::optional<balloon::Balloon> balloon_of(const BookAsked& asked, const Files& files, std::vector<Issue>& issues) {
  const auto text = files.read(asked.balloon_file);
  if (!text) {
    issues.push_back(text.error());
    return std::nullopt;
  }
  auto balloon = text::parse_balloon(*text, asked.balloon_file);
  std::move(balloon.issues.begin(), balloon.issues.end(), std::back_inserter(issues));
  return std::move(balloon.value);
}

Result<std::unique_ptr<Store>> open_book(const BookAsked& asked, Stores::Open how, const Stores* stores) {
  const std::string path = path_of(asked);
  const auto named = [&](Issue issue) {
    if (issue.where.file.empty()) issue.where.file = path;
    return tl::unexpected(std::move(issue));
  };
  // Standard input has no place beside it.
  if (!asked.book && asked.balloon_file == "-") return tl::unexpected(missing("--book", "--book FILE"));
  if (stores == nullptr) return named(Issue{Errc::machine_failed, say("issue.no_store"), {}, {}, {}});
  auto store = stores->open(path, how);
  if (!store) return named(store.error());
  return store;
}

Parsed<BookWritten> answer(const BookEntry& entry, const Files& files, const Clock& clock, const Stores* stores) {
  Parsed<BookWritten> out;
  const auto balloon = balloon_of(entry.asked, files, out.issues);
  if (!balloon) return out;
  const Moment now = present(entry.asked, clock), happened = entry.at.value_or(now);
  Checked checked{*balloon, out.issues};
  std::vector<Happening> events = std::visit([&](const auto& said) { return checked.events(said); }, entry.said);
  if (happened.at > now.at)
    out.issues.push_back({Errc::bad_input,
                          say("issue.book_future"),
                          {{}, 0, 0, "--at"},
                          iso8601(happened),
                          "not after " + iso8601({now.at, happened.offset})});
  if (entry.corrects && events.size() > 1)
    out.issues.push_back(option_issue("issue.book_one_cylinder", "--correct", std::to_string(*entry.corrects),
                                      "one event in the place of one"));
  if (!out.issues.empty()) return out;

  BookWritten written{.book = path_of(entry.asked), .subject = subject_of(*balloon), .entries = {}, .notes = {}};
  std::vector<Issue> warnings;
  const auto* flown = std::get_if<SaidFlight>(&entry.said);
  if (flown != nullptr)
    for (Happening& what : events)
      if (auto* flight = std::get_if<FlightEvent>(&what))
        compare(*flight, *flown, written.subject, files, clock, written.notes, out.issues, warnings);
  if (!out.issues.empty()) return out;

  // A correction is of something that is there: a slip in the file's name makes no new book.
  const auto store = open_book(entry.asked, entry.corrects ? Stores::Open::existing : Stores::Open::create, stores);
  if (!store) {
    out.issues.push_back(store.error());
    return out;
  }
  for (const Happening& what : events) {
    auto event = (*store)->append({.happened = happened.at,
                                   .author = entry.by,
                                   .kind = std::string(kind_of(what)),
                                   .subject = written.subject,
                                   .body = body_of(what),
                                   .corrects = entry.corrects},
                                  now.at);
    if (!event) {
      out.issues.push_back(event.error());
      if (!written.entries.empty()) {
        written.notes.push_back(
            say("book_note.not_all", {{"written", whole(static_cast<std::int64_t>(written.entries.size()))},
                                      {"all", whole(static_cast<std::int64_t>(events.size()))}}));
        break;
      }
      return out;
    }
    written.entries.push_back(line_of(*event, happened.offset));
  }
  if (flown != nullptr && !flown->drawn) written.notes.push_back(say("book_note.amount_open"));
  std::move(warnings.begin(), warnings.end(), std::back_inserter(out.issues));
  out.value = std::move(written);
  return out;
}

Remembered state_of(const book::CylinderMemory& m) {
  if (m.evidence.used_since) return m.used_not_refilled ? Remembered::used_not_refilled : Remembered::not_known;
  if (!m.proof) return m.used_not_refilled ? Remembered::used_not_refilled : Remembered::not_on_record;
  return m.evidence.drawn.empty() ? Remembered::as_proven : Remembered::drawn;
}

Parsed<BookShown> answer(const BookShow& question, const Files& files, const Clock& clock, const Stores* stores) {
  Parsed<BookShown> out;
  const auto balloon = balloon_of(question.asked, files, out.issues);
  if (!balloon) return out;
  const auto refuse = [&](const Issue& issue) {
    out.issues.push_back(issue);
    return out;
  };
  const Moment now = present(question.asked, clock);
  const auto store = open_book(question.asked, Stores::Open::read_only, stores);
  if (!store) return refuse(store.error());
  BookShown shown{.book = path_of(question.asked),
                  .balloon = balloon->name,
                  .subject = subject_of(*balloon),
                  .cylinders = {},
                  .events = {},
                  .issues = {},
                  .notes = {}};
  const auto history = cylinder_history(**store, shown.subject);
  if (!history) return refuse(history.error());
  for (const balloon::Cylinder& cylinder : balloon->cylinders) {
    const book::CylinderMemory memory = recalled(*history, cylinder.id, now.at);
    propane::Evidence evidence = memory.evidence;
    evidence.temperature = question.temperature;
    const auto account = propane::account(balloon::vessel_of(cylinder), evidence);
    if (!account) return refuse(account.error());
    RememberedCylinder line{.id = cylinder.id,
                            .state = state_of(memory),
                            .words = say("remembered.state_" + std::string(name_of(state_of(memory)))),
                            .proof = memory.proof,
                            .since = std::nullopt,
                            .flights = memory.flights_since,
                            .flown = memory.flown_since,
                            .mass_low = account->mass_low,
                            .mass_best = account->mass_best,
                            .mass_high = account->mass_high,
                            .liquid_volume_low = account->liquid_low,
                            .liquid_volume_best = account->liquid_best,
                            .liquid_volume_high = account->liquid_high,
                            .next_test = account->next_test,
                            .contradictions = {}};
    if (memory.last_proof) line.since = Moment{*memory.last_proof, now.offset};
    for (const propane::Contradiction& c : account->contradictions) line.contradictions.push_back(c.words);
    shown.cylinders.push_back(std::move(line));
  }
  std::vector<const Event*> newest;
  for (const Event& event : history->as_written) newest.push_back(&event);
  std::stable_sort(newest.begin(), newest.end(), [](const Event* a, const Event* b) {
    return a->what.happened != b->what.happened ? a->what.happened > b->what.happened : a->number > b->number;
  });
  for (const Event* event : newest)
    if (shown.events.size() < kLastEvents) shown.events.push_back(line_of(*event, now.offset));
  if (newest.size() > kLastEvents)
    shown.notes.push_back(
        say("book_note.more", {{"more", whole(static_cast<std::int64_t>(newest.size() - kLastEvents))}}));
  if (std::any_of(newest.begin(), newest.end(), [&](const Event* e) { return e->what.happened > now.at; }))
    shown.notes.push_back(say("book_note.later"));
  if (!question.temperature) shown.notes.push_back(say("book_note.no_temperature"));
  // Of cylinders that the balloon file doesn't have (any more) nothing is shown: it is said.
  std::vector<std::string> strange;
  const auto meet = [&](const std::string& id) {
    const bool known =
        std::any_of(balloon->cylinders.begin(), balloon->cylinders.end(), [&](const auto& c) { return c.id == id; });
    if (!known && std::find(strange.begin(), strange.end(), id) == strange.end()) strange.push_back(id);
  };
  for (const book::CylinderEvent& event : history->events) {
    if (const auto* flight = std::get_if<FlightEvent>(&event.what))
      for (const book::CylinderUse& use : flight->open) meet(use.cylinder);
    else
      std::visit(
          [&](const auto& what) {
            if constexpr (requires { what.cylinder; }) meet(what.cylinder);
          },
          event.what);
  }
  if (!strange.empty()) shown.notes.push_back(say("book_note.strange", {{"cylinders", joined(strange)}}));
  shown.issues = history->not_understood;
  for (Issue& issue : shown.issues) issue.where.file = shown.book;
  out.issues = shown.issues;
  out.value = std::move(shown);
  return out;
}

Result<BookVerified> verify_book(const BookAsked& asked, const Stores* stores) {
  const auto store = open_book(asked, Stores::Open::read_only, stores);
  if (!store) return tl::unexpected(store.error());
  const auto check = (*store)->verify();
  if (!check) return tl::unexpected(check.error());
  BookVerified out{.book = path_of(asked),
                   .events = check->events,
                   .whole = !check->first_broken,
                   .first_broken = check->first_broken,
                   .last = check->last,
                   .words = {}};
  out.words = out.whole ? say("book_note.whole", {{"events", whole(out.events)}})
                        : say("book_note.broken", {{"number", whole(*out.first_broken)}});
  return out;
}

Result<BookCopied> back_up_book(const BookAsked& asked, const std::string& to, const Stores* stores) {
  const auto store = open_book(asked, Stores::Open::read_only, stores);
  if (!store) return tl::unexpected(store.error());
  // A copy of a broken book would push out a whole one.
  const auto check = (*store)->verify();
  if (!check) return tl::unexpected(check.error());
  if (check->first_broken)
    return fail(Errc::conflict, say("issue.book_broken"), "event " + std::to_string(*check->first_broken));
  if (const auto done = (*store)->backup(to); !done) return tl::unexpected(done.error());
  return BookCopied{.book = path_of(asked), .copy = to, .events = check->events, .last = check->last};
}

Result<PeopleKnown> answer(const BookPeople& question, const Stores* stores) {
  const auto how = question.remember ? Stores::Open::create
                   : question.forget ? Stores::Open::existing
                                     : Stores::Open::read_only;
  const auto store = open_book(question.asked, how, stores);
  if (!store) return tl::unexpected(store.error());
  PeopleKnown out{.book = path_of(question.asked), .people = {}, .notes = {}};
  if (question.remember) {
    if (const auto done = (*store)->remember(*question.remember); !done) return tl::unexpected(done.error());
    out.notes.push_back(say("book_note.person", {{"id", question.remember->id}, {"name", question.remember->name}}));
  }
  if (question.forget) {
    if (const auto done = (*store)->forget(*question.forget); !done) return tl::unexpected(done.error());
    out.notes.push_back(say("book_note.forgotten", {{"id", *question.forget}}));
  }
  auto people = (*store)->people();
  if (!people) return tl::unexpected(people.error());
  out.people = *std::move(people);
  return out;
}

}  // namespace pappus::desk
