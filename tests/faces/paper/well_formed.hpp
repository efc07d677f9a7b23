/// A strict reader of what the page's writer may write: elements that nest, attributes in double quotes, no stray
/// "<" or "&". Stricter than HTML, as our own pages have no need of its leniency.
#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace pappus::testing {

struct Tag {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::vector<std::string> within;  // the elements that it stands in, outermost first
  std::string text;                 // all text in it, references resolved, elements left out
};

struct Document {
  std::vector<Tag> tags;  // in the order in which they begin
  std::string fault;      // the first one; empty: none
  [[nodiscard]] std::vector<const Tag*> all(std::string_view name) const;
  [[nodiscard]] const Tag* by_id(std::string_view id) const;
};

Document read_document(std::string_view html);

}  // namespace pappus::testing
