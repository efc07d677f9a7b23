#include "faces/paper/html.hpp"

#include "faces/paper/page.hpp"
#include "faces/paper/style.hpp"

namespace pappus::paper {
namespace {

// Nothing may be fetched, run, framed or sent; the style that stands in the page is all there is.
constexpr std::string_view kPolicy =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

}  // namespace

std::string html(const sheet::FlightSheet& sheet, const words::Reader& reader) {
  Page page{sheet, reader};
  Markup& to = page.to;
  to.verbatim(kMarker);
  {
    const auto document = to.element("html", {{"lang", name_of(page.reader.language)}});
    {
      const auto head = to.element("head");
      to.empty("meta", {{"charset", "utf-8"}});
      to.empty("meta", {{"http-equiv", "Content-Security-Policy"}, {"content", kPolicy}});
      to.empty("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
      to.empty("meta", {{"name", "referrer"}, {"content", "no-referrer"}});
      to.empty("meta", {{"name", "format-detection"}, {"content", "telephone=no, date=no, address=no"}});
      to.empty("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
      to.leaf("title",
              page.said(say("paper.document",
                            {{"balloon", sheet.balloon}, {"field", sheet.field}, {"date", sheet.time.date()}})));
      const auto style = to.element("style");
      to.verbatim(style_sheet());
    }
    const auto body = to.element("body");
    draw_head(page);
    {
      const auto main = to.element("main");
      {
        const auto leaf = to.element("div", {{"class", "leaf one"}});
        // At dawn what changed comes first; in the evening there is nothing yet that could have changed.
        if (sheet.evening) show_evening(page);
        show_limits(page);
        show_remedies(page);
        if (!sheet.evening) show_evening(page);
        show_load(page);
        show_fuel(page);
        show_dates(page);
        show_cautions(page);
      }
      const auto leaf = to.element("div", {{"class", "leaf two"}});
      show_winds(page);
      show_ground(page);
      show_landing(page);
      show_checklist(page);
    }
    const auto footer = to.element("footer");
    to.leaf("p", page.said(say("paper.made", {{"as_of", iso8601(sheet.as_of)}})));
  }
  return to.take();
}

}  // namespace pappus::paper
