// SPDX-License-Identifier: MIT
#include "load/models.h"

#include <algorithm>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/model_folder.h"
#include "app/cli/verbs.h"
#include "body/shape.h"
#include "report/json_writer.h"
#include "report/text_layout.h"
#include "report/tool.h"
#include "units/metric.h"

namespace evenspit {
namespace {

std::string range(const body::ShapeKind& kind) {
    const auto kilograms = [](double kg) { return metric(kg, Dimension::mass); };
    return fmt::format("{} to {}", kilograms(kind.least_kg), kilograms(kind.greatest_kg));
}

std::string as_json(const std::vector<ModelEntry>& entries, const std::vector<body::ShapeKind>& shapes) {
    Json json;
    json["tool"] = {{"name", tool_name()}, {"version", tool_version()}};
    json["models"] = Json::array();
    for (const body::ShapeKind& shape : shapes) {
        Json model;
        model["kind"] = "body";
        model["name"] = shape.name;
        model["about"] = shape.about;
        model["mass_min_kg"] = shape.least_kg;
        model["mass_max_kg"] = shape.greatest_kg;
        json["models"].push_back(std::move(model));
    }
    for (const ModelEntry& entry : entries) {
        Json model;
        model["kind"] = entry.kind;
        model["name"] = entry.name;
        model["about"] = entry.summary;
        model["file"] = entry.file.string();
        json["models"].push_back(std::move(model));
    }
    return json_text(json);
}

std::string as_lines(const std::vector<ModelEntry>& entries, const std::vector<body::ShapeKind>& shapes) {
    struct Line {
        std::string kind, name, about;
    };
    std::vector<Line> lines;
    lines.reserve(shapes.size() + entries.size());
    for (const body::ShapeKind& shape : shapes) {
        lines.push_back({"body", shape.name, fmt::format("{}; {}", shape.about, range(shape))});
    }
    for (const ModelEntry& entry : entries)
        lines.push_back({entry.kind, printable(entry.name), printable(entry.summary)});
    std::size_t kind_width = 0;
    std::size_t name_width = 0;
    for (const Line& line : lines) {
        kind_width = std::max(kind_width, line.kind.size());
        name_width = std::max(name_width, line.name.size());
    }
    std::string text;
    for (const Line& line : lines) {
        text += fmt::format("{:{}}  {:{}}  {}\n", line.kind, kind_width, line.name, name_width, line.about);
    }
    return text;
}

Outcome models(const Request& request, const Surroundings& around) {
    const std::vector<ModelEntry> entries = list_models(model_folder(around));
    const std::vector<body::ShapeKind> shapes = body::shape_kinds();
    return {request.format == Format::json ? as_json(entries, shapes) : as_lines(entries, shapes), computed};
}

}  // namespace

Verb models_verb() {
    return {.name = "models",
            .summary = "The bodies, rods, forks, and so on that loads can name",
            .example = "models",
            .words = {json_flag(), quiet_flag()},
            .tells_status = false,
            .understand = [](const Words& words) {
                Request request = common_request(words);
                request.deed = [](const Request& asked, const Surroundings& around, Progress&) {
                    return models(asked, around);
                };
                return request;
            }};
}

}  // namespace evenspit
