#include "faces/cli/manual.hpp"

#include <algorithm>

namespace pappus::cli {
namespace {

// Text as troff takes it literally: no request at the start of a line, no escape, and a minus that can be searched for.
std::string roff(std::string_view text) {
  std::string out;
  if (!text.empty() && (text.front() == '.' || text.front() == '\'')) out += "\\&";
  for (const char c : text) {
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else
      out += c;
  }
  return out;
}

void option_entry(std::string& page, const OptionSpec& option, const words::Reader& reader) {
  page += ".TP\n\\fB" + roff(option.name) + "\\fR";
  if (!option.placeholder.empty()) page += " \\fI" + roff(option.placeholder) + "\\fR";
  page += "\n" + roff(words::worded(option_text_key(option), reader)) + "\n";
}

}  // namespace

std::string option_text_key(const OptionSpec& option) {
  std::string name{option.about.empty() ? option.name.substr(2) : option.about};
  std::replace(name.begin(), name.end(), '-', '_');
  return "help.option." + name;
}

std::string manual_page(const words::Reader& reader) {
  const auto text = [&](std::string_view key) { return roff(words::worded(key, reader)); };
  std::string page =
      ".TH PAPPUS 1 \"\" \"pappus " PAPPUS_VERSION "\"\n.SH NAME\npappus \\- " + text("help.man_name") + "\n";
  page += ".SH SYNOPSIS\n";
  for (const VerbSpec& verb : verbs())
    page += ".br\n\\fBpappus " + roff(verb.name) + "\\fR " + roff(verb.positional) +
            (verb.options.empty() ? "" : " ...") + "\n";
  page += ".SH DESCRIPTION\n" + text("help.what") + "\n.PP\n" + text("help.units") + "\n";
  page += ".SH VERBS\n";
  for (const VerbSpec& verb : verbs()) {
    const std::string key = "help." + std::string(verb.name);
    page += ".SS " + roff(verb.name) + " " + roff(verb.positional) + "\n" + text(key + ".more") + "\n";
    for (const OptionSpec& option : verb.options) option_entry(page, option, reader);
  }
  page += ".SH OPTIONS\n";
  for (const OptionSpec& option : common_options()) option_entry(page, option, reader);
  page += ".SH EXIT STATUS\n" + text("help.exit") + "\n.SH CAUTIONS\n" + text("caution.manual_first") + "\n.PP\n" +
          text("caution.pilot_decides") + "\n";
  return page;
}

std::string bash_completion() {
  std::string names, cases;
  for (const VerbSpec& verb : verbs()) {
    names += (names.empty() ? "" : " ") + std::string(verb.name);
    std::string options;
    for (const OptionSpec& option : verb.options) options += std::string(option.name) + " ";
    for (const OptionSpec& option : common_options()) options += std::string(option.name) + " ";
    cases += "    " + std::string(verb.name) + ") options=\"" + options + "--help\" ;;\n";
  }
  return "# Completion of pappus for bash, made by `pappus completion`.\n"
         "_pappus() {\n"
         "  local word=${COMP_WORDS[COMP_CWORD]} options=\n"
         "  COMPREPLY=()\n"
         "  if [[ $COMP_CWORD -eq 1 ]]; then\n"
         "    mapfile -t COMPREPLY < <(compgen -W \"" +
         names +
         " help --help --version\" -- \"$word\")\n"
         "    return\n"
         "  fi\n"
         "  case ${COMP_WORDS[1]} in\n" +
         cases +
         "  esac\n"
         "  if [[ $word == -* ]]; then\n"
         "    mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$word\")\n"
         "  elif [[ ${COMP_WORDS[COMP_CWORD-1]} == --units ]]; then\n"
         "    mapfile -t COMPREPLY < <(compgen -W \"us metric\" -- \"$word\")\n"
         "  else\n"
         "    mapfile -t COMPREPLY < <(compgen -f -- \"$word\")\n"
         "  fi\n"
         "}\n"
         "complete -o filenames -F _pappus pappus\n";
}

}  // namespace pappus::cli
