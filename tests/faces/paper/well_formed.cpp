#include "tests/faces/paper/well_formed.hpp"

#include <algorithm>
#include <utility>

namespace pappus::testing {
namespace {

bool name_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
}

class Reader {
 public:
  explicit Reader(std::string_view text) : text_{text} {}

  Document read() {
    if (!take("<!DOCTYPE html>\n")) fail("no doctype");
    while (!failed() && at_ < text_.size()) step();
    if (!failed() && !open_.empty()) fail("<" + document_.tags[open_.back()].name + "> is not closed");
    return std::move(document_);
  }

 private:
  [[nodiscard]] bool failed() const { return !document_.fault.empty(); }
  void fail(const std::string& what) {
    if (!failed()) document_.fault = what + " at " + std::to_string(at_) + ": " + std::string(text_.substr(at_, 40));
  }
  [[nodiscard]] bool take(std::string_view wanted) {
    if (text_.substr(at_, wanted.size()) != wanted) return false;
    at_ += wanted.size();
    return true;
  }
  std::string name() {
    const std::size_t begin = at_;
    while (at_ < text_.size() && name_letter(text_[at_])) ++at_;
    if (at_ == begin) fail("a name is missing");
    return std::string(text_.substr(begin, at_ - begin));
  }

  void step() {
    if (take("<!--")) {
      const auto end = text_.find("-->", at_);
      if (end == std::string_view::npos) return fail("a comment is not closed");
      at_ = end + 3;
    } else if (take("</")) {
      close();
    } else if (take("<")) {
      begin();
    } else {
      text();
    }
  }

  void close() {
    const std::string tag = name();
    if (!take(">")) return fail("no > after </" + tag);
    if (open_.empty() || document_.tags[open_.back()].name != tag) return fail("</" + tag + "> closes nothing");
    open_.pop_back();
  }

  void begin() {
    Tag tag;
    for (const std::size_t i : open_) tag.within.push_back(document_.tags[i].name);
    tag.name = name();
    while (!failed() && take(" ")) {
      const std::string key = name();
      if (!take("=\"")) return fail("an attribute without =\"");
      const auto end = text_.find('"', at_);
      if (end == std::string_view::npos) return fail("an attribute is not closed");
      if (!tag.attributes.emplace(key, resolved(text_.substr(at_, end - at_))).second) return fail("twice: " + key);
      at_ = end + 1;
    }
    const bool whole = take("/>");
    if (!whole && !take(">")) return fail("<" + tag.name + " does not end");
    const bool style = tag.name == "style";
    document_.tags.push_back(std::move(tag));
    if (whole) return;
    open_.push_back(document_.tags.size() - 1);
    if (!style) return;
    // What stands in it is no markup.
    const auto end = text_.find("</", at_);
    if (end == std::string_view::npos) return fail("<style> is not closed");
    document_.tags.back().text = text_.substr(at_, end - at_);
    at_ = end;
  }

  void text() {
    const auto end = std::min(text_.find('<', at_), text_.size());
    const std::string read = resolved(text_.substr(at_, end - at_));
    for (const std::size_t i : open_) document_.tags[i].text += read;
    at_ = end;
  }

  std::string resolved(std::string_view raw) {
    std::string out;
    for (std::size_t i = 0; i < raw.size(); ++i) {
      if (raw[i] == '<' || raw[i] == '>') fail("a bare angle bracket");
      if (raw[i] != '&') {
        out += raw[i];
        continue;
      }
      bool known = false;
      for (const auto& [reference, letter] :
           {std::pair{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&#39;", '\''}}) {
        const std::string_view wanted{reference};
        if (raw.substr(i, wanted.size()) != wanted) continue;
        out += letter;
        i += wanted.size() - 1;
        known = true;
        break;
      }
      if (!known) fail("an ampersand that begins no reference of ours");
    }
    return out;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::vector<std::size_t> open_;
  Document document_;
};

}  // namespace

std::vector<const Tag*> Document::all(std::string_view name) const {
  std::vector<const Tag*> out;
  for (const Tag& tag : tags)
    if (tag.name == name) out.push_back(&tag);
  return out;
}

const Tag* Document::by_id(std::string_view id) const {
  for (const Tag& tag : tags)
    if (const auto found = tag.attributes.find("id"); found != tag.attributes.end() && found->second == id) return &tag;
  return nullptr;
}

Document read_document(std::string_view html) { return Reader{html}.read(); }

}  // namespace pappus::testing
