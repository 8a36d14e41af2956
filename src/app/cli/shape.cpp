// SPDX-License-Identifier: MIT
#include "body/shape.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "body/skin_file.h"
#include "load/shape_reader.h"
#include "report/body_report.h"
#include "units/quote.h"

namespace evenspit {
namespace {

TomlNode text_node(const std::string& text) {
    TomlNode node;
    node.kind = TomlNode::Kind::text;
    node.text = text;
    return node;
}

void put(TomlNode& table, const std::string& key, TomlNode value) {
    TomlEntry entry;
    entry.key = key;
    entry.value = std::move(value);
    table.entries.push_back(std::move(entry));
}

// The words as an [[item]] of a load file would have them, so that both are read alike.
TomlNode as_item(const ShapeWords& words) {
    const std::string of_tape = "tape.";
    TomlNode item, tape;
    for (const auto& [key, text] : words.texts) {
        if (key.starts_with(of_tape)) {
            put(tape, key.substr(of_tape.size()), text_node(text));
        } else {
            put(item, key, text_node(text));
        }
    }
    if (!tape.entries.empty()) put(item, "tape", std::move(tape));
    if (words.missing.empty()) return item;
    TomlNode missing;
    missing.kind = TomlNode::Kind::array;
    for (const std::string& limb : words.missing) missing.elements.push_back(text_node(limb));
    put(item, "missing", std::move(missing));
    return item;
}

// "--leg-splay" for "tape.leg_splay", "--missing" for "missing[2]"; the body's name has no option.
std::string option_of(const std::string& key) {
    if (key == "shape") return key;
    std::string option = key.substr(key.find('.') + 1);
    option = "--" + option.substr(0, option.find('['));
    std::replace(option.begin(), option.end(), '_', '-');
    return option;
}

Body make(const ShapeWords& words) {
    const TomlNode item = as_item(words);
    Complaints complaints;
    TableReader reader(item, "", complaints);
    try {
        const std::optional<Body> body = read_shape(reader);
        complaints.throw_if_any("");
        return body.value();
    } catch (const InputError& error) {
        std::vector<Complaint> told = error.complaints();
        for (Complaint& complaint : told) complaint.key = option_of(complaint.key);
        throw InputError(std::move(told));
    }
}

}  // namespace

Outcome shape(const Request& request, const Surroundings& around) {
    if (request.output && request.output->extension() != ".ply") {
        throw UsageError(fmt::format("--output: found {}; expected a name that ends in .ply",
                                     in_quotes(request.output->filename().string())));
    }
    const Body body = make(request.shape);
    Outcome outcome;
    outcome.text =
        request.format == Format::json ? body_json(body) : body_text(body, text_options(request, around));
    if (request.output) outcome.file = skin_ply(body);
    return outcome;
}

}  // namespace evenspit
