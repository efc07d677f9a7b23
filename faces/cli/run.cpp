// Arguments to a call: parsing by CLI11 from the table of verbs, help from the same table.
#include <algorithm>
#include <memory>

#include <CLI/CLI.hpp>

#include "core/base/nearest.hpp"
#include "faces/cli/call.hpp"
#include "faces/cli/manual.hpp"

namespace pappus::cli {
namespace {

constexpr std::string_view kVersion = PAPPUS_VERSION;

void show_option(Terminal& to, const OptionSpec& option, const words::Reader& reader) {
  std::string left = "  " + std::string(option.name);
  if (!option.placeholder.empty()) left += " " + std::string(option.placeholder);
  to.paragraph(words::worded(option_text_key(option), reader), 38, left);
}

std::string verb_help(const VerbSpec& verb, const words::Reader& reader) {
  Terminal to{false};
  const std::string name{verb.name};
  std::string usage = name;
  if (!verb.positional.empty()) usage += " " + std::string(verb.positional);
  for (const OptionSpec& option : verb.options) {
    const std::string text =
        std::string(option.name) + (option.placeholder.empty() ? "" : " " + std::string(option.placeholder));
    usage += option.required ? " " + text : " [" + text + "]";
    if (option.repeatable) usage += "...";
  }
  to.paragraph(usage, 7, "pappus");
  to.line();
  to.paragraph(words::worded("help." + name + ".summary", reader), 0);
  to.paragraph(words::worded("help." + name + ".more", reader), 0);
  to.line();
  for (const OptionSpec& option : verb.options) show_option(to, option, reader);
  for (const OptionSpec& option : common_options()) show_option(to, option, reader);
  return to.text();
}

std::string general_help(const words::Reader& reader) {
  Terminal to{false};
  to.paragraph(words::worded("help.what", reader), 0);
  to.line();
  for (const VerbSpec& verb : verbs())
    to.line("  " + fitted("pappus " + std::string(verb.name), 20) +
            words::worded("help." + std::string(verb.name) + ".summary", reader));
  to.line();
  to.paragraph(words::worded("help.units", reader), 0);
  to.paragraph(words::worded("help.exit", reader), 0);
  to.paragraph(words::worded("help.more", reader), 0);
  return to.text();
}

const VerbSpec* find_verb(std::string_view name) {
  for (const VerbSpec& verb : verbs())
    if (verb.name == name) return &verb;
  return nullptr;
}

int refuse_call(const Surroundings& around, const Issue& issue, const words::Reader& reader) {
  std::fprintf(around.err, "pappus: %s\n", words::worded(issue, reader).c_str());
  return exit_status(issue.code);
}

// What CLI11 found wrong, in our own words: an option that does not exist, one without its value, one given twice.
Issue wrong_call(const VerbSpec& verb, const CLI::ParseError& error, const std::vector<std::string>& arguments) {
  Issue issue;
  issue.code = Errc::bad_call;
  std::vector<std::string_view> known;
  for (const OptionSpec& option : verb.options) known.push_back(option.name);
  for (const OptionSpec& option : common_options()) known.push_back(option.name);
  for (const std::string& argument : arguments) {
    const std::string name = argument.substr(0, argument.find('='));
    if (name.rfind("--", 0) != 0 || std::find(known.begin(), known.end(), name) != known.end()) continue;
    issue.sentence = say("issue.option_unknown", {{"verb", std::string(verb.name)}});
    issue.got = name;
    issue.wanted = std::string(nearest(name, known));
    return issue;
  }
  issue.sentence = say("issue.call_unreadable", {{"verb", std::string(verb.name)}});
  issue.got = error.what();
  issue.wanted = "pappus " + std::string(verb.name) + " --help";
  return issue;
}

int run_verb(const VerbSpec& verb, const std::vector<std::string>& arguments, const Surroundings& around) {
  Call call{verb, around};
  if (std::find(arguments.begin(), arguments.end(), "--help") != arguments.end() ||
      std::find(arguments.begin(), arguments.end(), "-h") != arguments.end()) {
    call.print(verb_help(verb, call.reader()));
    return 0;
  }
  CLI::App app;
  app.set_help_flag();
  std::map<std::string, std::vector<std::string>> values;
  std::map<std::string, bool> flags;
  const auto add = [&](const OptionSpec& option) {
    const std::string name{option.name};
    if (option.placeholder.empty())
      app.add_flag(name, flags[name]);
    else if (option.repeatable)
      // One value each time: what follows may be the positional.
      app.add_option(name, values[name])->allow_extra_args(false);
    else if (option.count > 1)
      app.add_option(name, values[name])->expected(option.count)->multi_option_policy(CLI::MultiOptionPolicy::Throw);
    else
      app.add_option(name, values[name])->expected(1)->multi_option_policy(CLI::MultiOptionPolicy::Throw);
  };
  for (const OptionSpec& option : verb.options) add(option);
  for (const OptionSpec& option : common_options()) add(option);
  std::vector<std::string> positionals;
  if (!verb.positional.empty()) app.add_option("positional", positionals);
  try {
    // CLI11 takes its arguments last first.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::ParseError& error) {
    return refuse_call(around, wrong_call(verb, error, arguments), call.reader());
  }
  for (auto& [name, given] : values)
    if (app.count(name) != 0) call.set_option(name, std::move(given));
  for (const auto& [name, on] : flags)
    if (on) call.set_option(name, {std::string{}});
  call.set_positionals(std::move(positionals));
  call.read_common();
  return verb.run(call);
}

}  // namespace

int run(const std::vector<std::string>& arguments, Surroundings around) {
  const words::Reader reader;
  const auto print = [&](const std::string& text) { std::fwrite(text.data(), 1, text.size(), around.out); };
  if (arguments.empty() || arguments.front() == "--help" || arguments.front() == "-h" || arguments.front() == "help") {
    if (arguments.size() == 2)
      if (const VerbSpec* verb = find_verb(arguments[1])) {
        print(verb_help(*verb, reader));
        return 0;
      }
    print(general_help(reader));
    return arguments.empty() ? 2 : 0;
  }
  if (arguments.front() == "--version") {
    print("pappus " + std::string(kVersion) + "\n");
    return 0;
  }
  const VerbSpec* verb = find_verb(arguments.front());
  if (verb == nullptr) {
    Issue issue;
    issue.code = Errc::bad_call;
    issue.sentence = say("issue.verb_unknown");
    issue.got = arguments.front();
    std::vector<std::string_view> known;
    for (const VerbSpec& v : verbs()) known.push_back(v.name);
    issue.wanted = nearest(arguments.front(), known);
    if (issue.wanted.empty()) issue.wanted = "pappus --help";
    return refuse_call(around, issue, reader);
  }
  return run_verb(*verb, {arguments.begin() + 1, arguments.end()}, around);
}

}  // namespace pappus::cli
