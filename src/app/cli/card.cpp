// SPDX-License-Identifier: MIT
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/roast.h"
#include "app/cli/stop_signal.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "card/card_file.h"
#include "load/load_file.h"
#include "report/page.h"
#include "units/quote.h"

namespace evenspit {
namespace {

/// By the ending of the file's name.
///
/// \throws UsageError for another
card::CardFormat format_of(const std::filesystem::path& file) {
    if (const auto format = card::card_format(file)) return *format;
    refuse_option("--output", in_quotes(file.string()), "a file that ends in .pdf, .svg or .html");
}

std::string_view paper_name(UnitSystem units) {
    return units == UnitSystem::us ? "One page Letter" : "One page A4";
}

Outcome make(const Request& request, card::CardFormat format, int mountings, const Surroundings& around,
             Progress& progress) {
    progress.now("reading " + request.inputs.front().filename().string());
    const Assembly written =
        read_load(request.inputs.front(), model_folder(around), kept_shapes(around).get());
    CookProgress cooking(progress);
    const StopSignal stop;
    card::CardFile made = card::card_file(
        written, {.format = format,
                  .units = request.units,
                  .mountings = mountings,
                  .stage = [&progress](std::string_view stage) { progress.now(std::string(stage)); },
                  .cooking = by_the_clock(cooking),
                  .stop = stop.token()});
    Outcome outcome;
    outcome.status = made.card.verdict == Level::stop ? computed_stop : computed;
    outcome.file = std::move(made.bytes);
    progress.done();
    Page page(text_options(request, around));
    page.marked(level_mark(made.card.verdict), ink_of(made.card.verdict), made.card.verdict_words, 0);
    page.paragraph(fmt::format(
        "{} for {}.", format == card::CardFormat::html ? "A page for a browser" : paper_name(request.units),
        made.card.title));
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
