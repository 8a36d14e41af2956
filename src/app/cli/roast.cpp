// SPDX-License-Identifier: MIT
#include "app/cli/roast.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/stop_signal.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "cook/cook_course.h"
#include "cook/schedule.h"
#include "load/load_file.h"
#include "report/reader_units.h"
#include "report/roast_charts.h"
#include "report/roast_pictures.h"
#include "report/roast_report.h"
#include "report/roast_words.h"
#include "roast/cook_demand.h"
#include "units/quote.h"

namespace evenspit {
namespace {

/// Cells that are smaller take hours and all memory; larger ones are no bird's breast any more.
constexpr double least_spacing_m = 0.001, greatest_spacing_m = 0.015;
/// Cuts are kept so often where the moments to be drawn are only known in the end.
constexpr double cuts_every_s = 300;

std::vector<double> every(double step_s, double to_s) {
    std::vector<double> times;
    for (double t = step_s; t <= to_s; t += step_s) times.push_back(t);
    return times;
}

/// \throws UsageError for a moment that the cook does not reach
std::vector<double> moments_of_cuts(const RoastRequest& asked, const RoastCourse& course) {
    const double off_s = off_moment(course).time_s, end_s = course.moments.back().time_s;
    if (!asked.cuts_at_s) return {off_s / 2, off_s};
    for (const double at_s : *asked.cuts_at_s) {
        if (at_s > end_s) {
            refuse_option("--at", Units::minutes(at_s),
                          fmt::format("no more than {}, when cook and rest are over", Units::minutes(end_s)));
        }
    }
    return *asked.cuts_at_s;
}

bool wants(const Request& request, std::string_view option) {
    return std::any_of(request.others.begin(), request.others.end(),
                       [option](const OtherOutput& other) { return other.option == option; });
}

Outcome report(const Request& request, const RoastRequest& asked, const Assembly& assembly,
               const cook::CookCourse& course, const Surroundings& around) {
    const std::optional<cook::ScheduleNeed> need = cook::schedule_need(assembly, course);
    const std::optional<cook::Schedule> schedule = need ? std::optional(cook::schedule(*need)) : std::nullopt;
    Outcome outcome;
    outcome.status = course.verdict == Level::stop ? computed_stop : computed;
    switch (request.format) {
        case Format::text:
            outcome.text = roast_text(assembly, course, schedule, text_options(request, around));
            break;
        case Format::json:
            outcome.text = roast_json(assembly, course, schedule);
            break;
        case Format::csv:
            outcome.text = roast_csv(assembly, course);
            break;
    }
    for (const OtherOutput& other : request.others) {
        if (other.option == "--charts") {
            outcome.others.push_back(roast_svg(assembly, course, request.units));
        } else if (other.option == "--skin") {
            outcome.others.push_back(skin_svg(assembly, course, request.units));
        } else {
            const std::vector<double> times_s = moments_of_cuts(asked, course.roast);
            outcome.others.push_back(
                cut_svg(assembly, course.roast, cuts_at(course.roast, times_s), request.units));
        }
    }
    return outcome;
}

Outcome cooked(const Request& request, const RoastRequest& asked, const Surroundings& around,
               Progress& progress) {
    const std::filesystem::path& load = request.inputs.front();
    progress.now("reading " + load.filename().string());
    const Assembly assembly = read_load(load, model_folder(around), kept_shapes(around).get());
    demand_a_cook(assembly, load);

    cook::CookOptions options;
    options.roast.spacing_m = asked.spacing_m;
    options.mountings = asked.mountings;
    if (wants(request, "--cut")) {
        options.roast.cuts_s = asked.cuts_at_s
                                   ? *asked.cuts_at_s
                                   : every(cuts_every_s, options.roast.longest_s + options.roast.rest_s);
        options.roast.cut_when_off = !asked.cuts_at_s;
    }
    progress.now("seeing what each patch of skin sees of the fire");
    const cook::CookCourse course = told_cook(assembly, options, progress);
    progress.done();
    return report(request, asked, assembly, course, around);
}

Request understood_roast(const Words& words) {
    Request request = load_request(words, "roast");
    for (const char* option : {"--charts", "--cut", "--skin"}) {
        const std::optional<std::string> file = words.text(option);
        if (!file) continue;
        if (file->empty()) throw UsageError(fmt::format("{} needs the name of a file", option));
        request.others.push_back({option, *file});
    }
    request.deed = [asked = roast_request(words)](const Request& of, const Surroundings& around,
                                                  Progress& progress) {
        return cooked(of, asked, around, progress);
    };
    return request;
}

}  // namespace

RoastRequest roast_request(const Words& words) {
    RoastRequest asked;
    if (const auto spacing = words.text("--spacing")) {
        asked.spacing_m = option_quantity("--spacing", *spacing, Dimension::length, Range::positive);
        constexpr double rounding = 1e-9;
        if (asked.spacing_m < least_spacing_m * (1 - rounding) ||
            asked.spacing_m > greatest_spacing_m * (1 + rounding))
            refuse_option("--spacing", in_quotes(*spacing), "a length from 1 mm to 15 mm");
    }
    asked.mountings = mountings_of(words, usual_mountings);
    const std::vector<std::string> moments = words.texts("--at");
    if (!moments.empty() && !words.text("--cut"))
        throw UsageError("--at says when --cut cuts; add --cut FILE");
    for (const std::string& moment : moments) {
        if (!asked.cuts_at_s) asked.cuts_at_s.emplace();
        asked.cuts_at_s->push_back(option_quantity("--at", moment, Dimension::time, Range::not_negative));
    }
    return asked;
}

cook::CookCourse told_cook(const Assembly& assembly, const cook::CookOptions& options, Progress& progress) {
    CookProgress told(progress);
    const StopSignal stop;
    return cook::cook_course(assembly, options, by_the_clock(told), stop.token());
}

RoastProgress by_the_clock(CookProgress& told) {
    return [&told, start = std::chrono::steady_clock::now()](double done_s, double of_s) {
        told.now(done_s, of_s,
                 std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    };
}

void CookProgress::now(double done_s, double of_s, double passed_s) {
    constexpr double seldom_s = 0.2, worth_a_guess_s = 1;
    const bool over = done_s >= of_s - 1;
    if (!over && told_s_ && passed_s - *told_s_ < seldom_s) return;
    told_s_ = passed_s;
    if (over) {
        progress_.now("checking motor, forks and clearance along the way");
        return;
    }
    std::string words = fmt::format("cooking: {} of about {}", Units::minutes(done_s), Units::minutes(of_s));
    if (passed_s > worth_a_guess_s && done_s > 0)
        words += fmt::format(", {:.0f} s left", passed_s * (of_s - done_s) / done_s);
    progress_.now(words);
}

Verb roast_verb() {
    const auto value = [](const char* name, const char* about, const char* type) {
        return WordSpec{WordSpec::Kind::value, name, about, type};
    };
    return {.name = "roast",
            .summary = "The cook over time: heat, losses, grip, when to do what",
            .example = "roast samples/harvest-turkey.toml --spacing \"8 mm\" --charts cook.svg",
            .words = {load_operand("The load file (TOML), with a [cook]"),
                      json_flag(),
                      quiet_flag(),
                      csv_flag("The curves as CSV: heat, losses, motor and grip"),
                      units_option(),
                      mountings_option(usual_mountings),
                      output_option("Write the result to FILE, whole or not at all"),
                      file_option("--charts", "Draw the curves into an SVG"),
                      file_option("--cut", "Draw how hot it is inside into an SVG"),
                      {WordSpec::Kind::values, "--at", "When, for --cut (default half way and at the end)",
                       "TIME"},
                      file_option("--skin", "Draw the heat over the skin into an SVG"),
                      value("--spacing", "Size of the cells, 1 to 15 mm (default 2 mm)", "LENGTH")},
            .understand = understood_roast};
}

}  // namespace evenspit
