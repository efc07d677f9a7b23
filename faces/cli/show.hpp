/// Answers as a person reads them in a terminal.
#pragma once
#include "core/sheet/flight_sheet.hpp"
#include "core/sheet/sections/climb.hpp"
#include "desk/answers.hpp"
#include "desk/book_answer.hpp"
#include "desk/burn_answer.hpp"
#include "desk/cylinder_answer.hpp"
#include "desk/learned_answer.hpp"
#include "desk/pibal_answer.hpp"
#include "desk/reach_answer.hpp"
#include "faces/cli/terminal.hpp"
#include "words/words.hpp"

namespace pappus::cli {

void show(Terminal& to, const desk::AirAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::PropaneAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::CylinderAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::BookWritten& answer, const words::Reader& reader);
void show(Terminal& to, const desk::BookShown& answer, const words::Reader& reader);
void show(Terminal& to, const desk::LearnedAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::BookVerified& answer, const words::Reader& reader);
void show(Terminal& to, const desk::BookCopied& answer, const words::Reader& reader);
void show(Terminal& to, const desk::PeopleKnown& answer, const words::Reader& reader);
void show(Terminal& to, const desk::LiftAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::SunAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::VariationAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::WindsAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::PibalAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const sheet::LiftSection& lift, const words::Reader& reader);
void show(Terminal& to, const sheet::FuelSection& fuel, const words::Reader& reader);
void show(Terminal& to, const sheet::ClimbSection& answer, const words::Reader& reader);
void show(Terminal& to, const desk::BurnAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const desk::ReachAnswer& answer, const words::Reader& reader);
void show(Terminal& to, const sheet::FlightSheet& sheet, const words::Reader& reader);

/// Parts that several pages share.
void show_winds(Terminal& to, const std::vector<sheet::WindLine>& levels, const std::vector<sheet::GapLine>& gaps,
                const std::optional<sheet::SteerageLine>& steerage, const words::Reader& reader);
/// Sections of the sheet, each with its heading; nothing where there is nothing to show.
void show_changes(Terminal& to, const sheet::FlightSheet& sheet, const words::Reader& reader);
void show_sources(Terminal& to, const sheet::FlightSheet& sheet, const words::Reader& reader);
void show_remedies(Terminal& to, const sheet::RemediesSection& remedies, const words::Reader& reader);
void show_landing(Terminal& to, const sheet::LandingSection& landing, const words::Reader& reader);
void show_reach(Terminal& to, const sheet::ReachSection& reach, const words::Reader& reader);
void show_dates(Terminal& to, const std::vector<book::Due>& dates, const words::Reader& reader);
void show_notes(Terminal& to, const std::vector<Sentence>& notes, const words::Reader& reader);

}  // namespace pappus::cli
