/// Writes HTML and SVG that cannot be broken by what is written.
///
/// Every text and every attribute value goes through one escape, and an element ends with the scope that opened it:
///
///     Markup to;
///     {
///       const auto row = to.element("tr");
///       to.leaf("td", name);
///     }
///
/// The result is well-formed XML too (empty elements carry a slash, which HTML allows), so that a plain checker can
/// hold it.
#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pappus::paper {

/// What is shown of a text that anybody may have typed: & < > " ' become references; control characters, what is no
/// UTF-8, and the marks that turn the direction of the text around them become U+FFFD, so that a name can neither hide
/// nor turn round the figures beside it.
/// Laws      the answer holds none of < > " and no control character but line feed; escaping ordinary words changes
///           nothing.
[[nodiscard]] std::string escaped(std::string_view text);

/// A name of ours and a value of anybody's.
struct Attribute {
  std::string_view name, value;
};
using Attributes = std::initializer_list<Attribute>;

class Markup {
 public:
  class Element {
   public:
    explicit Element(Markup& to) : to_{&to} {}
    Element(Element&& other) noexcept : to_{std::exchange(other.to_, nullptr)} {}
    Element(const Element&) = delete;
    Element& operator=(const Element&) = delete;
    ~Element() {
      if (to_ != nullptr) to_->close();
    }

   private:
    Markup* to_;
  };

  /// Opens an element, which the answer closes when it goes out of scope. `tag` lasts as long as the element.
  [[nodiscard]] Element element(std::string_view tag, Attributes attributes = {});
  /// An element without content.
  void empty(std::string_view tag, Attributes attributes = {});
  /// An element that holds one text.
  void leaf(std::string_view tag, std::string_view text) { leaf(tag, {}, text); }
  void leaf(std::string_view tag, Attributes attributes, std::string_view text);
  void text(std::string_view text) { out_ += escaped(text); }
  /// Ours alone: a style sheet, the document's type. Never a text that was read or worded.
  void verbatim(std::string_view markup) { out_ += markup; }

  [[nodiscard]] const std::string& str() const { return out_; }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  void begin(std::string_view tag, Attributes attributes);
  void close();

  std::string out_;
  std::vector<std::string_view> open_;
};

}  // namespace pappus::paper
