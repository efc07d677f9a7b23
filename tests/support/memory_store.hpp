/// Books that live as long as a test: what desk/store.hpp promises, without a disk.
#pragma once
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "desk/store.hpp"

namespace pappus::testing {

/// The pages of one book. Its chain is a chain and no SHA-256: a test may break it.
struct MemoryBook {
  std::vector<desk::Event> events;
  std::vector<desk::Person> people;
  std::size_t room = 1000;  // events that the disk has room for
};

using MemoryBooks = std::map<std::string, MemoryBook>;

class MemoryStore : public desk::Store {
 public:
  MemoryStore(MemoryBooks& books, std::string path, bool read_only)
      : books_{books}, path_{std::move(path)}, read_only_{read_only} {}

  Result<desk::Event> append(const desk::NewEvent& event, Instant recorded) override {
    if (read_only_) return fail(Errc::machine_failed, say("issue.store_read_only"), path_);
    for (const auto& [field, value] : {std::pair{"author", event.author}, std::pair{"subject", event.subject}})
      if (!is_id(value)) return unusable(field);
    if (event.kind.empty() || event.kind.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") != std::string::npos)
      return unusable("kind");
    if (event.body.empty() || event.body.front() != '{' || event.body.size() > (64U << 10U)) return unusable("body");
    if (event.corrects) {
      const auto& all = book().events;
      if (std::none_of(all.begin(), all.end(), [&](const desk::Event& e) {
            return e.number == *event.corrects && e.what.subject == event.subject;
          }))
        return fail(Errc::not_found, say("issue.event_not_there"), std::to_string(*event.corrects));
    }
    if (book().events.size() >= book().room) return fail(Errc::machine_failed, say("issue.store_full"), path_);
    desk::Event out{static_cast<std::int64_t>(book().events.size()) + 1, recorded, event, {}};
    out.chain = link(book().events.empty() ? std::string{} : book().events.back().chain, out);
    book().events.push_back(out);
    return out;
  }
  Result<std::vector<desk::Event>> events(const desk::EventsWanted& wanted) override {
    std::vector<desk::Event> out;
    for (const desk::Event& e : book().events)
      if ((!wanted.subject || e.what.subject == *wanted.subject) && (!wanted.kind || e.what.kind == *wanted.kind))
        out.push_back(e);
    return out;
  }
  Result<desk::ChainCheck> verify() override {
    desk::ChainCheck out;
    std::string before;
    for (const desk::Event& e : book().events) {
      ++out.events;
      if (!out.first_broken && (e.number != out.events || e.chain != link(before, e))) out.first_broken = e.number;
      before = e.chain;
    }
    out.last = before;
    return out;
  }
  Result<void> backup(const std::string& path) override {
    if (books_.count(path) != 0) return fail(Errc::conflict, say("issue.backup_there"), path);
    books_[path] = book();
    return {};
  }
  Result<void> remember(const desk::Person& person) override {
    if (read_only_) return fail(Errc::machine_failed, say("issue.store_read_only"), path_);
    for (desk::Person& known : book().people)
      if (known.id == person.id) {
        known = person;
        return {};
      }
    book().people.push_back(person);
    return {};
  }
  Result<std::vector<desk::Person>> people() override { return book().people; }
  Result<void> forget(const std::string& id) override {
    if (std::erase_if(book().people, [&](const desk::Person& p) { return p.id == id; }) == 0)
      return fail(Errc::not_found, say("issue.person_not_there"), id);
    return {};
  }

 private:
  MemoryBook& book() { return books_.at(path_); }
  static bool is_id(std::string_view id) {
    return !id.empty() && id.size() <= 64 && std::none_of(id.begin(), id.end(), [](char c) {
      return static_cast<unsigned char>(c) < 0x20U || c == 0x7F;
    });
  }
  static tl::unexpected<Issue> unusable(const char* field) {
    return fail(Errc::bad_input, say("issue.event_unusable", {{"field", std::string(field)}}));
  }
  // 64 hexadecimal digits of everything in the event and the link before (FNV-1a, four times over).
  static std::string link(const std::string& before, const desk::Event& e) {
    const std::string all = before + '\n' + std::to_string(e.number) + '\n' + iso8601_utc(e.recorded) + '\n' +
                            iso8601_utc(e.what.happened) + '\n' + e.what.author + '\n' + e.what.kind + '\n' +
                            e.what.subject + '\n' + e.what.body + '\n' +
                            (e.what.corrects ? std::to_string(*e.what.corrects) : "");
    std::string out;
    std::uint64_t hash = 1469598103934665603U;
    for (int part = 0; part < 4; ++part) {
      for (const char c : all) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
      for (int digit = 15; digit >= 0; --digit)
        out += "0123456789abcdef"[(hash >> (4U * static_cast<unsigned>(digit))) & 15U];
    }
    return out;
  }

  MemoryBooks& books_;
  std::string path_;
  bool read_only_;
};

class MemoryStores : public desk::Stores {
 public:
  mutable MemoryBooks books;
  mutable int created = 0;
  [[nodiscard]] Result<std::unique_ptr<desk::Store>> open(const std::string& path, Open how) const override {
    if (books.count(path) == 0) {
      if (how != Open::create) return fail(Errc::not_found, say("issue.book_not_there"), path);
      books[path];
      ++created;
    }
    return std::make_unique<MemoryStore>(books, path, how == Open::read_only);
  }
};

}  // namespace pappus::testing
