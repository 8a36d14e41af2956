// SPDX-License-Identifier: MIT
#include "load/models.h"

#include <algorithm>

#include <fmt/format.h>

#include "app/cli/model_folder.h"
#include "app/cli/verbs.h"
#include "report/json_writer.h"
#include "report/layout.h"
#include "report/tool.h"

namespace evenspit {
namespace {

std::string as_json(const std::vector<ModelEntry>& entries) {
    Json json;
    json["tool"] = {{"name", tool_name()}, {"version", tool_version()}};
    json["models"] = Json::array();
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

std::string as_lines(const std::vector<ModelEntry>& entries) {
    std::size_t kind_width = 0;
    std::size_t name_width = 0;
    for (const ModelEntry& entry : entries) {
        kind_width = std::max(kind_width, entry.kind.size());
        name_width = std::max(name_width, entry.name.size());
    }
    std::string text;
    for (const ModelEntry& entry : entries) {
        text += fmt::format("{:{}}  {:{}}  {}\n", entry.kind, kind_width, entry.name, name_width,
                            printable(entry.summary));
    }
    return text;
}

}  // namespace

Outcome models(const Request& request, const Surroundings& around) {
    const std::vector<ModelEntry> entries = list_models(model_folder(around));
    return {request.format == Format::json ? as_json(entries) : as_lines(entries), computed};
}

}  // namespace evenspit
