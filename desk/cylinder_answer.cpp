#include "desk/cylinder_answer.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "core/balloon/vessel.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/saturation.hpp"
#include "desk/book_answer.hpp"
#include "desk/book_events.hpp"
#include "desk/cylinder_outlook.hpp"
#include "formats/text/pilot/balloon_file.hpp"

namespace pappus::desk {
namespace {

Issue missing(std::string option, std::string wanted) {
  Issue issue;
  issue.code = Errc::bad_call;
  issue.sentence = say("issue.option_missing", {{"verb", std::string("cylinder")}});
  issue.where.key = std::move(option);
  issue.wanted = std::move(wanted);
  return issue;
}

// The figures of the cylinder, from the balloon's file or from the call; what the call says goes before the file.
// `subject` is the balloon's in its book.
std::optional<propane::Vessel> vessel_asked(const CylinderQuestion& q, const Files& files, std::string& subject,
                                            Fitted& fitted, std::vector<Issue>& issues) {
  propane::Vessel vessel;
  if (q.balloon_file) {
    const auto text = files.read(*q.balloon_file);
    if (!text) {
      issues.push_back(text.error());
      return std::nullopt;
    }
    auto balloon = text::parse_balloon(*text, *q.balloon_file);
    std::move(balloon.issues.begin(), balloon.issues.end(), std::back_inserter(issues));
    if (!balloon.value) return std::nullopt;
    std::string ids;
    const balloon::Cylinder* found = nullptr;
    for (const balloon::Cylinder& c : balloon.value->cylinders) {
      ids += (ids.empty() ? "" : ", ") + c.id;
      if (q.cylinder == c.id) found = &c;
    }
    if (found == nullptr) {
      Issue issue = missing("--cylinder", ids);
      if (q.cylinder) {
        issue.code = Errc::not_found;
        issue.sentence = say("issue.fuel_cylinder_unknown");
        issue.got = *q.cylinder;
      }
      issues.push_back(std::move(issue));
      return std::nullopt;
    }
    vessel = balloon::vessel_of(*found);
    fitted = fitted_of(*balloon.value, *found);
    subject = subject_of(*balloon.value);
  } else {
    if (!q.shell) issues.push_back(missing("--shell", "18.75gal"));
    if (!q.level_fill) issues.push_back(missing("--level-fill", "15gal"));
    if (q.weighed && !q.tare) issues.push_back(missing("--tare", "18kg"));
    if (!issues.empty()) return std::nullopt;
  }
  if (q.shell) vessel.shell = *q.shell;
  if (q.level_fill) vessel.level_fill = *q.level_fill;
  if (q.tare) vessel.tare = *q.tare;
  if (q.gauge_span) vessel.gauge_span = q.gauge_span;
  if (q.gauge_reads) vessel.gauge_reads = *q.gauge_reads;
  return vessel;
}

// What the book says of it; none where there is no book to be used. `notes` says which.
std::optional<book::CylinderMemory> remembered_of(const CylinderQuestion& q, const std::string& subject,
                                                  const Moment& now, const Stores* stores, std::vector<Sentence>& notes,
                                                  std::vector<Issue>& issues) {
  if (!q.balloon_file || q.no_book) {
    if (q.book) issues.push_back(missing(q.no_book ? "--no-book" : "BALLOON", "--book, with a balloon file"));
    return std::nullopt;
  }
  // Standard input has no book beside it, and a program without a store none at all.
  if (!q.book && (*q.balloon_file == "-" || stores == nullptr)) {
    notes.push_back(say("remembered.not_looked"));
    return std::nullopt;
  }
  const BookAsked asked{.balloon_file = *q.balloon_file, .book = q.book, .now = q.now};
  const auto store = open_book(asked, Stores::Open::read_only, stores);
  if (!store) {
    if (store.error().code == Errc::not_found && !q.book)
      notes.push_back(say("remembered.no_book", {{"book", default_book(*q.balloon_file)}}));
    else
      issues.push_back(store.error());
    return std::nullopt;
  }
  const auto history = cylinder_history(**store, subject);
  if (!history) {
    issues.push_back(history.error());
    return std::nullopt;
  }
  if (!history->not_understood.empty()) notes.push_back(say("remembered.not_understood"));
  return recalled(*history, q.cylinder.value_or(std::string{}), now.at);
}

}  // namespace

Result<propane::Drawn> drawn_by_volume(Volume drawn, Temperature coldest, Temperature warmest) {
  const propane::ReadingErrors errors;
  const auto most = propane::saturation_at(coldest), least = propane::saturation_at(warmest);
  if (!most) return tl::unexpected(most.error());
  if (!least) return tl::unexpected(least.error());
  const Density middle = 0.5 * (most->liquid_density + least->liquid_density);
  const double spread = (most->liquid_density - least->liquid_density) / (2.0 * middle);
  return propane::Drawn{.mass = middle * drawn, .error = errors.volume + spread};
}

Parsed<CylinderAnswer> answer(const CylinderQuestion& q, const Files& files, const Clock& clock, const Stores* stores) {
  Parsed<CylinderAnswer> out;
  std::string subject;
  Fitted fitted;
  const auto vessel = vessel_asked(q, files, subject, fitted, out.issues);
  if (!vessel) return out;
  const auto refuse = [&](const Issue& issue) {
    out.issues.push_back(issue);
    return out;
  };
  const Moment now = q.now ? *q.now : Moment{clock.now(), UtcOffset{}};
  std::vector<Sentence> memory_notes;
  const auto memory = remembered_of(q, subject, now, stores, memory_notes, out.issues);
  if (!out.issues.empty()) return out;
  const propane::ReadingErrors errors;
  propane::Evidence evidence{.filled = q.filled,
                             .used_since = q.flown_since.has_value(),
                             .temperature = q.temperature,
                             .gauge_pressure = q.gauge_pressure,
                             .ambient = q.ambient,
                             .charged = q.charged || q.charge.has_value(),
                             .mix = q.mix,
                             .valve = q.valve,
                             .tube_attitude = !q.other_attitude,
                             .dial = q.dial,
                             .weighed = q.weighed};
  if (memory) {
    for (Sentence& words : book::memory_words(*memory, now.offset)) memory_notes.push_back(std::move(words));
    if (q.filled) {
      memory_notes.push_back(say("remembered.call_fill"));
    } else {
      evidence.filled = memory->evidence.filled;
      evidence.drawn = memory->evidence.drawn;
      evidence.used_since = evidence.used_since || memory->evidence.used_since;
    }
  }
  // A volume drawn is counted at the liquid's temperature, now or at the fill.
  const auto& filled = evidence.filled;
  const Temperature cold = q.temperature ? *q.temperature : filled ? filled->coldest : celsius(-20.0);
  const Temperature warm = q.temperature ? *q.temperature : filled ? filled->warmest : celsius(45.0);
  for (const Volume volume : q.drawn) {
    const auto drawn = drawn_by_volume(volume, cold, warm);
    if (!drawn) return refuse(drawn.error());
    evidence.drawn.push_back(*drawn);
  }
  for (const Duration burned : q.burned) {
    const auto drawn = drawn_by_minutes(burned, q.flow, cold, warm);
    if (!drawn) return refuse(drawn.error());
    evidence.drawn.push_back(*drawn);
  }
  if (!(q.drawn.empty() && q.burned.empty()) && (!filled || evidence.used_since))
    memory_notes.push_back(say("cylinder.drawn_from_nothing"));
  const auto account = propane::account(*vessel, evidence, errors);
  if (!account) return refuse(account.error());

  CylinderAnswer answer{.mass_low = account->mass_low,
                        .mass_best = account->mass_best,
                        .mass_high = account->mass_high,
                        .liquid_volume_low = account->liquid_low,
                        .liquid_volume_best = account->liquid_best,
                        .liquid_volume_high = account->liquid_high,
                        .temperature_low = account->coldest,
                        .temperature_high = account->warmest,
                        .gauge_pressure = {},
                        .gauge_pressure_low = {},
                        .gauge_pressure_high = {},
                        .pressure_state = sheet::LimitState::not_known,
                        .liquid_full_temperature = std::nullopt,
                        .relief_temperature = std::nullopt,
                        .margin = std::nullopt,
                        .margin_air = std::nullopt,
                        .temperature_then_low = std::nullopt,
                        .temperature_then = std::nullopt,
                        .temperature_then_high = std::nullopt,
                        .gauge_pressure_then_low = std::nullopt,
                        .gauge_pressure_then = std::nullopt,
                        .gauge_pressure_then_high = std::nullopt,
                        .liquid_volume_then_low = std::nullopt,
                        .liquid_volume_then = std::nullopt,
                        .liquid_volume_then_high = std::nullopt,
                        .charge_now_low = std::nullopt,
                        .charge_now_high = std::nullopt,
                        .charge_half_low = std::nullopt,
                        .charge_half_high = std::nullopt,
                        .charge_end_low = std::nullopt,
                        .charge_end_high = std::nullopt,
                        .cautions = {},
                        .proven_full = account->proven_full,
                        .contradictions = {},
                        .reasons = account->reasons,
                        .next_test = account->next_test,
                        .next = say("account.next_" + std::string(name_of(account->next_test))),
                        .notes = {say("caution.manual_first"), say("caution.pressure_is_not_quantity")},
                        .book = std::nullopt};
  for (const propane::Contradiction& c : account->contradictions) answer.contradictions.push_back(c.words);
  if (q.flown_since)
    answer.reasons.insert(answer.reasons.begin(), say("account.flown", {{"time", measure::of(*q.flown_since)}}));
  if (!account->temperature_known)
    answer.notes.insert(answer.notes.begin(), say("account.no_temperature", {{"low", measure::of(account->coldest)},
                                                                             {"high", measure::of(account->warmest)}}));
  answer.notes.insert(answer.notes.begin(), memory_notes.begin(), memory_notes.end());
  if (memory) answer.book = q.book ? *q.book : default_book(*q.balloon_file);
  const Temperature middle = account->coldest + 0.5 * (account->warmest - account->coldest);
  const auto low = propane::pressure_band(evidence.mix, account->coldest);
  const auto best = propane::pressure_band(evidence.mix, middle);
  const auto high = propane::pressure_band(evidence.mix, account->warmest);
  if (!low) return refuse(low.error());
  if (!best) return refuse(best.error());
  if (!high) return refuse(high.error());
  answer.gauge_pressure = q.gauge_pressure.value_or(propane::gauge(best->best, q.ambient));
  answer.gauge_pressure_low = propane::gauge(low->low, q.ambient);
  answer.gauge_pressure_high = propane::gauge(high->high, q.ambient);
  if (const auto full = propane::liquid_full_temperature(vessel->shell, account->mass_high))
    answer.liquid_full_temperature = *full;
  else if (full.error().sentence.key != "propane.never_full")
    return refuse(full.error());
  const OutlookFrom from{.question = q, .vessel = *vessel, .account = *account, .evidence = evidence, .fitted = fitted};
  for (const auto tell : {tell_charge, tell_then, tell_margins})
    if (const auto told = tell(from, answer); !told) return refuse(told.error());
  judge_pressure(from, answer);
  out.value = std::move(answer);
  return out;
}

}  // namespace pappus::desk
