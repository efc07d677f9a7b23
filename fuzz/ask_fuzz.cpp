// Any bytes at all as the answers to a round of questions, an answer up to each zero byte: no crash, no more questions than
// promised, a refused answer with its reason, and at the end a file that stands.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "desk/ask.hpp"
#include "formats/text/pilot/balloon_file.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using namespace pappus;

constexpr std::string_view kBalloon = R"(name = "x"
[envelope]
volume = "105000ft3"
mass = "118kg"
[basket]
mass = "86kg"
[[burner]]
mass = "28kg"
[[cylinder]]
id = "1"
shell = "22.5gal"
level_fill = "18gal"
tare = "20kg"
[[cylinder]]
id = "2"
shell = "22.5gal"
level_fill = "18gal"
tare = "20kg"
)";

bool answer_all(desk::Round& round, std::string_view answers) {
  while (!answers.empty()) {
    const auto prompt = round.next();
    if (!prompt) return true;
    require(prompt->number <= desk::kMostQuestions, "at most twelve questions");
    const std::size_t end = std::min(answers.find('\0'), answers.size());
    const desk::Heard heard = round.answer(answers.substr(0, end));
    require(heard.taken || !heard.issues.empty(), "a refused answer has its reason");
    answers.remove_prefix(std::min(end + 1, answers.size()));
  }
  return !round.next();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 1) return 0;
  const std::string_view answers{reinterpret_cast<const char*>(data) + 1, size - 1};
  const unsigned how = data[0];
  words::Reader reader;
  reader.units = (how & 1u) != 0 ? words::Units::us : words::Units::metric;
  if ((how & 2u) != 0) {
    desk::BalloonRound round{{.reader = reader}};
    if (answer_all(round, answers))
      require(text::parse_balloon(round.file(), "b.toml").issues.empty(), "a balloon file stands");
    return 0;
  }
  const UtcOffset offset{-9 * 60};
  desk::FlightRound round{{.balloon = *text::parse_balloon(kBalloon, "b.toml").value,
                           .balloon_path = "balloon.toml",
                           .now = {instant_of(*Date::of(2027, 5, 16), 4, 50, 0.0, offset), offset},
                           .reader = reader}};
  if (answer_all(round, answers))
    require(text::parse_flight(round.file(), "f.toml").value.has_value(), "a flight file stands");
  return 0;
}
