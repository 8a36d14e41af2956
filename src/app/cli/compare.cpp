// SPDX-License-Identifier: MIT
#include "plan/compare.h"

#include <algorithm>

#include <fmt/format.h>

#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
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

ComparedLoad analysed(std::string name, Assembly assembly) {
    ComparedLoad load{std::move(name), std::move(assembly), {}};
    load.analysis = analyse(load.assembly);
    return load;
}

std::string told(Shape shape, const std::vector<ComparedLoad>& loads, const TextOptions& options) {
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

std::string told(Shape shape, const Sweep& sweep, const std::vector<ComparedLoad>& loads,
                 const TextOptions& options) {
    switch (shape) {
        case Shape::json:
            return sweep_json(sweep, loads);
        case Shape::csv:
            return sweep_csv(sweep, loads);
        case Shape::picture:
            return sweep_svg(sweep, loads);
        case Shape::text:
            break;
    }
    return sweep_text(sweep, loads, options);
}

}  // namespace

Outcome compare(const Request& request, const Surroundings& around, Progress& progress) {
    const std::filesystem::path models = model_folder(around);
    const Shape shape = shape_of(request);
    if (shape == Shape::picture && !request.sweep) return {told(shape, {}, {}), computed};
    std::vector<ComparedLoad> loads;
    Outcome outcome;
    if (request.sweep) {
        const Sweep sweep = parse_sweep(*request.sweep);
        const std::string text = read_whole_file(request.load);
        for (std::size_t i = 0; i < sweep.values.size(); ++i) {
            progress.now(fmt::format("{} of {}", i + 1, sweep.values.size()));
            LoadText load(text, request.load.string());
            load.set(sweep.path, sweep.values[i]);
            loads.push_back(analysed(sweep.labels[i], read_load_text(load.text(), request.load, models)));
        }
        progress.done();
        outcome.text = told(shape, sweep, loads, text_options(request, around));
    } else {
        const std::vector<std::string> names = column_names(request.loads);
        for (std::size_t i = 0; i < request.loads.size(); ++i) {
            progress.now("reading " + request.loads[i].filename().string());
            loads.push_back(analysed(names[i], read_load(request.loads[i], models)));
        }
        progress.done();
        outcome.text = told(shape, loads, text_options(request, around));
    }
    const bool none = std::all_of(loads.begin(), loads.end(), [](const ComparedLoad& load) {
        return load.analysis.verdict == Level::stop;
    });
    outcome.status = none ? computed_stop : computed;
    return outcome;
}

}  // namespace evenspit
