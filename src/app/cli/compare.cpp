// SPDX-License-Identifier: MIT
#include "plan/compare.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "cook/cook_course.h"
#include "files/whole_file.h"
#include "load/load_file.h"
#include "report/plan_report.h"

namespace evenspit {
namespace {

enum class Shape { text, json, csv, picture };

Shape shape_of(const Request& request) {
    if (request.format == Format::json) return Shape::json;
    if (request.format == Format::csv) return Shape::csv;
    if (!request.output) return Shape::text;
    const std::string ending = request.output->extension().string();
    return ending == ".csv" ? Shape::csv : ending == ".svg" ? Shape::picture : Shape::text;
}

/// What tells the files apart: their names, or their paths where names are alike.
std::vector<std::string> column_names(const std::vector<std::filesystem::path>& files) {
    std::vector<std::string> names;
    for (const std::filesystem::path& file : files) {
        const auto alike = std::count_if(files.begin(), files.end(), [&](const std::filesystem::path& other) {
            return other.stem() == file.stem();
        });
        names.push_back(alike > 1 ? file.string() : file.stem().string());
    }
    return names;
}

/// Loads are compared by as many mountings as they are checked by; a sweep has many of them.
constexpr int sweep_mountings = 256;

plan::ComparedLoad analysed(std::string name, Assembly assembly, int mountings) {
    cook::JudgedLoad judged = cook::judged_load(std::move(assembly), mountings);
    return {std::move(name), std::move(judged.load), std::move(judged.analysis)};
}

std::string told(Shape shape, const std::vector<plan::ComparedLoad>& loads, const TextOptions& options) {
    switch (shape) {
        case Shape::json:
            return comparison_json(loads);
        case Shape::csv:
            return comparison_csv(loads);
        case Shape::picture:
            throw UsageError("a picture shows a sweep: add --sweep, or name another file than .svg");
        case Shape::text:
            break;
    }
    return comparison_text(loads, options);
}

std::string told(Shape shape, const plan::Sweep& sweep, const std::vector<plan::ComparedLoad>& loads,
                 const TextOptions& options) {
    switch (shape) {
        case Shape::json:
            return sweep_json(sweep, loads);
        case Shape::csv:
            return sweep_csv(sweep, loads);
        case Shape::picture:
            return sweep_svg(sweep, loads, options.units);
        case Shape::text:
            break;
    }
    return sweep_text(sweep, loads, options);
}

Outcome compare(const Request& request, const std::optional<std::string>& swept, int mountings,
                const Surroundings& around, Progress& progress) {
    const std::vector<std::filesystem::path>& files = request.inputs;
    const std::filesystem::path models = model_folder(around);
    const auto kept = kept_shapes(around);
    const Shape shape = shape_of(request);
    if (shape == Shape::picture && !swept) return {told(shape, {}, {}), computed};
    std::vector<plan::ComparedLoad> loads;
    Outcome outcome;
    if (swept) {
        const plan::Sweep sweep = plan::parse_sweep(*swept);
        const std::string text = read_whole_file(files.front());
        for (std::size_t i = 0; i < sweep.values.size(); ++i) {
            progress.now(fmt::format("{} of {}", i + 1, sweep.values.size()));
            LoadText load(text, files.front().string());
            load.set(sweep.path, sweep.values[i]);
            loads.push_back(analysed(
                sweep.labels[i], read_load_text(load.text(), files.front(), models, kept.get()), mountings));
        }
        progress.done();
        outcome.text = told(shape, sweep, loads, text_options(request, around));
    } else {
        const std::vector<std::string> names = column_names(files);
        for (std::size_t i = 0; i < files.size(); ++i) {
            progress.now("reading " + files[i].filename().string());
            loads.push_back(analysed(names[i], read_load(files[i], models, kept.get()), mountings));
        }
        progress.done();
        outcome.text = told(shape, loads, text_options(request, around));
    }
    const bool none = std::all_of(loads.begin(), loads.end(), [](const plan::ComparedLoad& load) {
        return load.analysis.verdict == Level::stop;
    });
    outcome.status = none ? computed_stop : computed;
    return outcome;
}

Request understood_compare(const Words& words) {
    Request request = common_request(words);
    for (const std::string& load : words.texts("LOADS")) request.inputs.emplace_back(load);
    const std::optional<std::string> swept = words.text("--sweep");
    if (request.inputs.empty()) throw UsageError("compare needs load files: compare A.toml B.toml");
    if (swept && request.inputs.size() > 1) throw UsageError("--sweep takes one load file");
    if (!swept && request.inputs.size() < 2)
        throw UsageError("compare needs a second load file, or --sweep KEY=FROM:TO:STEP");
    const int mountings = mountings_of(words, swept ? sweep_mountings : usual_mountings);
    request.deed = [swept, mountings](const Request& asked, const Surroundings& around, Progress& progress) {
        return compare(asked, swept, mountings, around, progress);
    };
    return request;
}

}  // namespace

Verb compare_verb() {
    return {.name = "compare",
            .summary = "Loads side by side, or one with a key swept",
            .example = "compare samples/leg-of-lamb.toml --sweep rod.width=8mm:12mm:2mm",
            .words = {{.kind = WordSpec::Kind::operands,
                       .names = "LOADS",
                       .about = "The load files (TOML)",
                       .files = "toml"},
                      json_flag(),
                      quiet_flag(),
                      {WordSpec::Kind::value, "--sweep", "A key and its values: fork.1.at=150mm:250mm:10mm",
                       "KEY=…"},
                      csv_flag("The figures as CSV"),
                      units_option(),
                      mountings_option(),
                      output_option("Write the result to FILE; .csv and .svg say what")},
            .understand = understood_compare};
}

}  // namespace evenspit
