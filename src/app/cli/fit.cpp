// SPDX-License-Identifier: MIT
#include "plan/fit.h"

#include <cmath>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/model_folder.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "files/whole_file.h"
#include "load/load_edit.h"
#include "load/load_file.h"
#include "load/load_text.h"
#include "load/shape_reader.h"
#include "load/toml_tree.h"
#include "report/plan_report.h"
#include "units/quantity.h"
#include "units/toml_string.h"

namespace evenspit {
namespace {

/// What a TOML string says, as it stands in a file.
std::string text_of(const std::string& value, const std::string& file) {
    return parse_toml("value = " + value, file).find("value")->text;
}

/// The text of the load with every item so many times as heavy: a shape grows with its mass and what was
/// taped of it, a scan is scaled.
std::string heavier(const std::string& text, const Assembly& assembly, double factor) {
    LoadText load(text, assembly.file);
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Body& body = assembly.items[i].body->body;
        double contents_kg = 0;
        for (const Part& part : body.parts) {
            if (part.kind == PartKind::stuffing)
                contents_kg += part.density_kg_m3 * volume_moments(part.mesh).amount;
        }
        const double mass_kg = assembly.items[i].body->mass.amount - contents_kg;
        const std::string item = std::to_string(i + 1);
        load.set({"item", item, "mass"}, fmt::format("\"{:.9g} kg\"", factor * mass_kg));
        for (const TapeKey& measure : tape_keys) {
            const KeyPath path{"item", item, "tape", std::string(measure.key)};
            const auto given = load.find(path);
            if (!given) continue;
            const double length_m = parse_quantity(text_of(*given, assembly.file), Dimension::length);
            load.set(path, toml_string(exact_quantity(std::cbrt(factor) * length_m, Dimension::length)));
        }
        if (!load.has({"item", item, "scan"})) continue;
        const std::string scale = load.find({"item", item, "scale"}).value_or("1");
        load.set({"item", item, "scale"}, fmt::format("{:.9g}", std::cbrt(factor) * std::stod(scale)));
    }
    return load.text();
}

Outcome fit(const Request& request, int mountings, const Surroundings& around, Progress& progress) {
    const std::filesystem::path models = model_folder(around);
    progress.now("reading " + request.inputs.front().filename().string());
    const std::string text = read_whole_file(request.inputs.front());
    const Assembly assembly = read_load(request.inputs.front(), models);
    double mass_kg = 0;
    for (const Item& item : assembly.items) mass_kg += item.body->mass.amount;
    const Fit found = find_fit(
        [&](double factor) {
            progress.now("planning for " + format_quantity(factor * mass_kg, Dimension::mass, request.units));
            return factor == 1
                       ? assembly
                       : read_load_text(heavier(text, assembly, factor), request.inputs.front(), models);
        },
        mass_kg, mountings);
    progress.done();
    return {request.format == Format::json ? fit_json(assembly, found)
                                           : fit_text(assembly, found, text_options(request, around)),
            found.largest_kg ? computed : computed_stop};
}

}  // namespace

Verb fit_verb() {
    return {.name = "fit",
            .summary = "How large a body rod, motor and cooker can take",
            .words = {load_operand(), json_flag(), quiet_flag(), mountings_option(answer_mountings),
                      units_option()},
            .understand = [](const Words& words) {
                Request request = load_request(words, "fit");
                request.deed = [mountings = mountings_of(words, answer_mountings)](
                                   const Request& asked, const Surroundings& around, Progress& progress) {
                    return fit(asked, mountings, around, progress);
                };
                return request;
            }};
}

}  // namespace evenspit
