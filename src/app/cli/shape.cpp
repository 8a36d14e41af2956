// SPDX-License-Identifier: MIT
#include "app/cli/shape.h"

#include <utility>

#include <fmt/format.h>

#include "app/cli/common_words.h"
#include "app/cli/kept_shapes.h"
#include "app/cli/text_options.h"
#include "app/cli/verbs.h"
#include "body/shape.h"
#include "body/skin_file.h"
#include "load/key_words.h"
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

// An option and the key of an [[item]] that it stands for.
struct KeyedOption {
    std::string key;
    WordSpec spec;
};

const std::vector<KeyedOption>& keyed_options() {
    using enum WordSpec::Kind;
    static const std::vector<KeyedOption> options{
        {"shape", {operand, "NAME", "What it is, like turkey or \"leg of lamb\"", "", body::shape_names()}},
        {"mass", {value, "--mass", "Weight on the scale, giblets out: \"13 lb\"", "MASS"}},
        {"trussing",
         {value, "--trussing", "Of a bird or pig: tight, \"legs tied\", folded …", "HOW",
          names_of(trussing_words())}},
        {"missing",
         {values, "--missing", "A limb that a bird lacks: \"left wing\"", "LIMB", body::bird_limbs()}},
        {"stuffing", {value, "--stuffing", "What is stuffed into it", "MASS"}},
        {"stuffing_density", {value, "--stuffing-density", "As it lies in there: \"700 kg/m3\"", "DENSITY"}},
        {"giblets", {value, "--giblets", "What was left in a bird", "MASS"}},
        {"tape.length", {value, "--length", "Over all, by the tape; so are", "LENGTH"}},
        {"tape.width", {value, "--width", "the width, limbs as they lie,", "LENGTH"}},
        {"tape.depth", {value, "--depth", "and the depth from back to breast", "LENGTH"}},
        {"tape.breast_width", {value, "--breast-width", "Of a bird: across the breast alone", "LENGTH"}},
        {"tape.girth", {value, "--girth", "Of a bird: round it where that is most", "LENGTH"}},
        {"tape.leg_splay",
         {value, "--leg-splay", "Of a bird: from one drumstick's end to the other", "LENGTH"}},
    };
    return options;
}

// "--leg-splay" for "tape.leg_splay", "--missing" for "missing[2]"; the body's name has no option.
std::string option_of(const std::string& key) {
    const std::string plain = key.substr(0, key.find('['));
    for (const KeyedOption& option : keyed_options()) {
        if (option.key == plain && option.spec.kind != WordSpec::Kind::operand) return option.spec.key();
    }
    return key;
}

body::Body make(const ShapeWords& words, const KeptFiles* kept) {
    const TomlNode item = as_item(words);
    Complaints complaints;
    TableReader reader(item, key_table("item"), "", complaints);
    try {
        const std::optional<body::Body> body = read_shape(reader, kept);
        complaints.throw_if_any("");
        return body.value();
    } catch (const InputError& error) {
        std::vector<Complaint> told = error.complaints();
        for (Complaint& complaint : told) complaint.key = option_of(complaint.key);
        throw InputError(std::move(told));
    }
}

Outcome shape(const Request& request, const ShapeWords& words, const Surroundings& around) {
    const body::Body body = make(words, kept_shapes(around).get());
    Outcome outcome;
    outcome.text =
        request.format == Format::json ? body_json(body) : body_text(body, text_options(request, around));
    if (request.output) outcome.file = body::skin_ply(body);
    return outcome;
}

Request understood_shape(const Words& words) {
    Request request = common_request(words);
    if (request.output && request.output->extension() != ".ply")
        refuse_option("--output", in_quotes(request.output->filename().string()), "a name that ends in .ply");
    request.text_to_output = false;
    request.deed = [told = shape_words(words)](const Request& asked, const Surroundings& around, Progress&) {
        return shape(asked, told, around);
    };
    return request;
}

}  // namespace

ShapeWords shape_words(const Words& words) {
    ShapeWords shape;
    for (const KeyedOption& option : keyed_options()) {
        if (option.spec.kind == WordSpec::Kind::values) {
            shape.missing = words.texts(option.spec.key());
        } else if (const auto text = words.text(option.spec.key())) {
            shape.texts[option.key] = *text;
        }
    }
    if (!shape.texts.contains("shape"))
        throw UsageError(
            fmt::format("shape needs the name of a body: {}", fmt::join(body::shape_names(), ", ")));
    if (!shape.texts.contains("mass")) throw UsageError("shape needs a weight: --mass \"13 lb\"");
    return shape;
}

Verb shape_verb() {
    Verb verb{.name = "shape",
              .summary = "A bird or a joint by weight and tape: figures and mesh",
              .example = "shape turkey --mass \"13 lb\" --girth \"66 cm\" -o turkey.ply",
              .words = {},
              .tells_status = false,
              .understand = understood_shape};
    for (const KeyedOption& option : keyed_options()) verb.words.push_back(option.spec);
    verb.words.insert(verb.words.begin() + 1, {json_flag(), quiet_flag()});
    verb.words.push_back(units_option());
    verb.words.push_back(output_option("Write the skin to FILE.ply, whole or not at all"));
    return verb;
}

}  // namespace evenspit
