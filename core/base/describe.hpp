/// One description per struct: the JSON, its schema, the manual and the page's types are all made from it.
///
/// A struct is described by specialising Description<T> beside it:
///
///     template <>
///     struct Description<Limit> {
///       static constexpr std::string_view name = "Limit";
///       static constexpr auto fields = Fields{
///           field("name", &Limit::name, "which limit"),
///           field("state", &Limit::state, "where the value stands against the bound")};
///     };
///
/// A field's name leaves the unit out: readers and writers add it from the type (a Mass named "margin" is written
/// "margin_kg", a TrueBearing named "from" is "from_true_deg"), so that name and unit cannot disagree.
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <utility>

namespace pappus {

template <class T>
struct Description;

template <class Owner, class T>
struct Field {
  std::string_view name;
  T Owner::*member;
  std::string_view doc;
};

template <class Owner, class T>
constexpr Field<Owner, T> field(std::string_view name, T Owner::*member, std::string_view doc) {
  return Field<Owner, T>{name, member, doc};
}

/// The fields of one struct, in order: `Fields{field(...), ...}`. A plain row of members, because std::tuple of twenty
/// elements costs the compiler seconds in every file that merely sees it.
template <std::size_t I, class F>
struct FieldAt {
  F field;
};
template <class Places, class... F>
struct FieldRow;
template <std::size_t... I, class... F>
struct FieldRow<std::index_sequence<I...>, F...> : FieldAt<I, F>... {
  constexpr explicit FieldRow(F... fields) : FieldAt<I, F>{fields}... {}
  template <class Visit>
  constexpr void each(Visit& visit) const {
    (visit(static_cast<const FieldAt<I, F>&>(*this).field), ...);
  }
};
template <class... F>
struct Fields : FieldRow<std::index_sequence_for<F...>, F...> {
  constexpr explicit Fields(F... fields) : FieldRow<std::index_sequence_for<F...>, F...>(fields...) {}
};

template <class T>
concept Described = requires {
  Description<T>::fields;
};

/// The written names of an enumeration: specialise with `static constexpr std::array<std::pair<E, std::string_view>, N>
/// all`, every enumerator once.
template <class E>
struct Names;

template <class E>
concept Named = requires {
  Names<E>::all;
};

template <Named E>
[[nodiscard]] constexpr std::string_view name_of(E value) {
  for (const auto& [candidate, name] : Names<E>::all)
    if (candidate == value) return name;
  return {};
}

template <Named E>
[[nodiscard]] constexpr std::optional<E> named(std::string_view name) {
  for (const auto& [candidate, known] : Names<E>::all)
    if (known == name) return candidate;
  return std::nullopt;
}

/// Calls visit(field) for every field of T, in order.
template <Described T, class Visit>
constexpr void for_each_field(Visit&& visit) {
  Description<T>::fields.each(visit);
}

}  // namespace pappus
