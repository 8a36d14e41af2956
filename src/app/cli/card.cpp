// SPDX-License-Identifier: MIT
#include "card/card.h"

#include <utility>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/model_folder.h"
#include "app/cli/roast.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "card/card_page.h"
#include "card/card_sheet.h"
#include "card/paper.h"
#include "cook/cook_course.h"
#include "load/load_file.h"
#include "report/page.h"
#include "units/quote.h"

namespace evenspit {
namespace {

enum class CardFormat { pdf, svg, html };

/// By the ending of the file's name.
///
/// \throws UsageError for another
CardFormat format_of(const std::filesystem::path& file) {
    const std::string ending = file.extension().string();
    if (ending == ".pdf") return CardFormat::pdf;
    if (ending == ".svg") return CardFormat::svg;
    if (ending == ".html") return CardFormat::html;
    refuse_option("--output", in_quotes(file.string()), "a file that ends in .pdf, .svg or .html");
}

/// As `check` cooks it, so that both say the same, and with what hands have to do on the way.
std::optional<cook::CookCourse> cook_of(const Assembly& assembly, Progress& progress) {
    if (!can_roast(assembly)) return std::nullopt;
    cook::CookOptions options;
    options.roast = coarse_roast();
    return told_cook(assembly, options, progress);
}

std::optional<cook::Schedule> schedule_of(const Assembly& assembly, const cook::CookCourse& course) {
    const std::optional<cook::ScheduleNeed> need = cook::schedule_need(assembly, course);
    return need ? std::optional(cook::schedule(*need)) : std::nullopt;
}

std::string_view paper_name(UnitSystem units) {
    return units == UnitSystem::us ? "One page Letter" : "One page A4";
}

std::string drawn_as(CardFormat format, const card::Card& card, const card::DrawnLoad& drawn,
                     const card::Letters& letters) {
    if (format == CardFormat::html) return card::card_page(card, drawn, letters);
    const card::Paper& paper = drawn.units == UnitSystem::us ? card::letter : card::a4;
    const card::Sheet sheet = card::lay_out(card, drawn, paper, letters.measure());
    return format == CardFormat::pdf
               ? card::pdf_of(sheet, letters, {.title = card.title, .made_by = card.made_by})
               : card::svg_of(sheet, letters);
}

Outcome make(const Request& request, CardFormat format, int mountings, const Surroundings& around,
             Progress& progress) {
    progress.now("reading " + request.inputs.front().filename().string());
    const Assembly written = read_load(request.inputs.front(), model_folder(around));
    const std::optional<cook::CookCourse> course = cook_of(written, progress);
    const std::optional<cook::Schedule> schedule = course ? schedule_of(written, *course) : std::nullopt;
    progress.now("mounting it again and again");
    const cook::JudgedLoad judged =
        course ? cook::judged_load(written, *course, mountings) : cook::judged_load(written, mountings);
    progress.now("drawing the card");
    const card::DrawnLoad drawn = card::drawn_load(judged.load, judged.analysis, request.units);
    const card::Card card = card::make_card({judged.load, judged.analysis, schedule, request.units});
    const card::Letters letters;
    Outcome outcome;
    outcome.status = card.verdict == Level::stop ? computed_stop : computed;
    outcome.file = drawn_as(format, card, drawn, letters);
    progress.done();
    Page page(text_options(request, around));
    page.marked(level_mark(card.verdict), ink_of(card.verdict), card.verdict_words, 0);
    page.paragraph(fmt::format(
        "{} for {}.", format == CardFormat::html ? "A page for a browser" : paper_name(request.units),
        card.title));
    outcome.text = page.text();
    return outcome;
}

Request understood_card(const Words& words) {
    Request request = load_request(words, "card");
    if (!request.output) throw UsageError("card needs the name of a file: card LOAD.toml -o CARD.pdf");
    request.text_to_output = false;
    request.deed = [format = format_of(*request.output), mountings = mountings_of(words, usual_mountings)](
                       const Request& asked, const Surroundings& around, Progress& progress) {
        return make(asked, format, mountings, around, progress);
    };
    return request;
}

}  // namespace

Verb card_verb() {
    return {
        .name = "card",
        .summary = "One page to take outside: drawings, steps, times, cautions",
        .example = "card samples/leg-of-lamb.toml -o card.pdf",
        .words = {load_operand(),
                  quiet_flag(),
                  output_option("The card: FILE.pdf, FILE.svg or FILE.html"),
                  {WordSpec::Kind::value, "--units", "metric (A4) or us (Letter; default metric)", "SYSTEM"},
                  mountings_option()},
        .understand = understood_card};
}

}  // namespace evenspit
