/// What every part of the page is handed: the sheet, who reads it, where it is written.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/sheet/flight_sheet.hpp"
#include "faces/paper/drawing.hpp"
#include "faces/paper/markup.hpp"
#include "words/words.hpp"

namespace pappus::paper {

/// How much a state speaks against flying. Each has a shape and a word beside its colour.
enum class Mark { inside, near, outside, not_known };

class Page {
 public:
  Page(const sheet::FlightSheet& sheet, words::Reader reader);

  const sheet::FlightSheet& sheet;
  words::Reader reader;
  Markup to;

  // --- words; what is absent or says nothing is "not known" ---
  [[nodiscard]] std::string word(std::string_view key) const { return words::worded(key, reader); }
  [[nodiscard]] std::string said(const Sentence& sentence) const;
  [[nodiscard]] std::string said(Measure measure) const { return words::worded(measure, reader); }
  template <class T>
  [[nodiscard]] std::string said(const std::optional<T>& value) const {
    return value ? said(measure::of(*value)) : not_known();
  }
  [[nodiscard]] std::string said(const std::optional<Measure>& value) const {
    return value ? said(*value) : not_known();
  }
  [[nodiscard]] std::string said(const std::optional<Moment>& m) const {
    return m ? words::clock(m->at, reader) : not_known();
  }
  [[nodiscard]] std::string not_known() const { return word("word.not_known"); }
  /// "pibal, 04:40 (30 min old)".
  [[nodiscard]] std::string source(std::string_view name, Instant time) const;
  /// The sources of the winds that are drawn, each once, the youngest first.
  [[nodiscard]] std::string wind_sources() const;

  // --- pieces ---
  [[nodiscard]] Markup::Element section(std::string_view id, std::string_view title_key, std::string_view look = {});
  void heading(std::string_view key);
  void sentence(const Sentence& sentence, std::string_view look = {});
  /// A list; nothing where it is empty.
  void sentences(const std::vector<Sentence>& list, std::string_view look);
  /// A word with its shape, and the shape alone where the word stands beside it.
  void tag(Mark mark, std::string_view word);
  void tag_only(Mark mark);
  /// "name ... value" of a list of such; `small` says what goes with it.
  void entry(std::string_view name, std::string_view value, std::string_view small = {});
  /// The first row of a table: the columns' names by their keys.
  void columns(std::initializer_list<std::string_view> keys);
  void cell(std::string_view value, std::string_view small = {}, std::string_view look = {});
  void row_head(std::string_view value, std::string_view small = {});
};

// --- the parts of the page, one file each ---
void draw_head(Page& page);
void show_evening(Page& page);
void show_limits(Page& page);
void show_remedies(Page& page);
void show_load(Page& page);
void show_fuel(Page& page);
void show_winds(Page& page);
void show_ground(Page& page);
void show_landing(Page& page);
void show_dates(Page& page);
void show_cautions(Page& page);
void show_checklist(Page& page);

// --- the figures ---
void draw_winds(Page& page);
void draw_hodograph(Page& page);
void draw_lift(Page& page, const sheet::LiftSection& lift);
void draw_reach(Page& page, const sheet::ReachSection& reach);

/// Up to which height the figures by height go: the highest flown or asked about; none where nothing has a height.
[[nodiscard]] std::optional<HeightAgl> top_of(const sheet::FlightSheet& sheet);
/// The field above the sea, as far as the sheet tells.
[[nodiscard]] std::optional<AltitudeAmsl> field_of(const sheet::FlightSheet& sheet);

/// A figure: its drawing, and below it where its numbers come from.
struct FigureHead {
  std::string_view id;  // unique in the page
  std::string title, description, caption;
  double width = 360.0, height = 300.0;
};
template <class Draw>
void figure(Page& page, const FigureHead& head, Draw draw) {
  const std::string title_id = std::string(head.id) + "-title", text_id = std::string(head.id) + "-text";
  const auto all = page.to.element("figure", {{"id", head.id}});
  {
    const auto drawing = page.to.element("svg", {{"viewBox", "0 0 " + px(head.width) + " " + px(head.height)},
                                                 {"role", "img"},
                                                 {"aria-labelledby", title_id},
                                                 {"aria-describedby", text_id}});
    page.to.leaf("title", {{"id", title_id}}, head.title);
    page.to.leaf("desc", {{"id", text_id}}, head.description);
    draw();
  }
  const auto caption = page.to.element("figcaption");
  page.to.leaf("strong", head.title);
  page.to.text(" " + head.caption);
}

[[nodiscard]] std::string_view name_of_mark(Mark mark);
[[nodiscard]] Mark mark_of(sheet::LimitState state);

}  // namespace pappus::paper
