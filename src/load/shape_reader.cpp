// SPDX-License-Identifier: MIT
#include "load/shape_reader.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "body/kept_shape.h"
#include "load/reading.h"
#include "units/nearest.h"
#include "units/quote.h"

namespace evenspit {

namespace {

// The body's name as the program writes it, "" for none that it knows.
std::string read_name(TableReader& given) {
    const auto written = given.text("shape");
    if (!written) return "";
    if (std::string known = known_shape(*written); !known.empty()) return known;
    const std::vector<std::string> names = body::shape_names();
    const auto near = nearest_word(*written, names);
    given.complain(
        "shape", in_quotes(*written), fmt::format("one of: {}", fmt::join(names, ", ")),
        near ? fmt::format("did you mean \"{}\"?", *near) : "for a body unlike these give a scan of it");
    return "";
}

/// Whether all limbs are tied.
bool holds_all(body::Trussing trussing) {
    return trussing != body::Trussing::legs_tied && trussing != body::Trussing::loose;
}

// `trussing` says how; `trussed` says whether.
body::Trussing read_trussing(TableReader& given, const std::string& shape) {
    const bool tied = given.flag_or_usual("trussed");
    const KeyWords<body::Trussing> own = trussing_words_of(shape);
    const auto trussing = given.choice_of("trussing", trussing_words(), own.empty() ? trussing_words() : own);
    if (given.has("trussed") && trussing && tied != holds_all(*trussing)) {
        given.complain("trussing",
                       fmt::format("trussing = {} beside trussed = {}", given.find("trussing")->shown(),
                                   given.find("trussed")->shown()),
                       "one that agrees with the other", "take one of the two out");
    }
    return trussing.value_or(tied ? body::Trussing::tight : body::Trussing::loose);
}

body::BirdTape read_tape(TableReader& tape) {
    body::BirdTape measures;
    for (const TapeKey& key : tape_keys) measures.*key.length_m = tape.quantity(key.key);
    tape.refuse_unknown();
    return measures;
}

void read_contents(TableReader& given, body::ShapeOptions& options) {
    options.stuffing_kg = given.quantity("stuffing").value_or(0);
    options.stuffing_density_kg_m3 = given.quantity("stuffing_density");
    options.giblets_kg = given.quantity("giblets").value_or(0);
    if (given.has("stuffing_density") && !given.has("stuffing")) {
        given.complain("stuffing_density", "stuffing_density without stuffing", "both, or none",
                       "say how much stuffing there is");
    }
    given.choice("cavity", cavity_words());
    if (!given.has("cavity")) return;
    for (const char* what : {"stuffing", "giblets"}) {
        if (!given.has(what)) continue;
        given.complain(what, fmt::format("{} beside cavity = {}", what, given.find("cavity")->shown()),
                       "one of the two", fmt::format("a cavity with {} in it is not empty", what));
    }
}

// `trussed = true` says nothing that is wrong of a joint without limbs.
void refuse_ties(TableReader& given, const std::string& joint) {
    if (given.has("trussed") && given.find("trussed")->kind == TomlNode::Kind::boolean &&
        !given.find("trussed")->boolean) {
        given.complain("trussed", fmt::format("trussed = false of a {}", joint),
                       "true, or nothing: its shape is that of a tied one",
                       "take it out; for a piece that hangs loose give a scan of it");
    }
    if (given.has("trussing")) {
        given.complain("trussing", fmt::format("trussing of a {}", joint),
                       "nothing: it has no limbs that could be loose; its shape is that of a tied one",
                       "take it out");
    }
}

// What a joint has not; an empty cavity says nothing that is wrong of one.
void refuse_what_birds_have(TableReader& given, std::optional<TableReader>& tape, const std::string& joint) {
    const auto refuse = [&joint](TableReader& table, const char* key, const char* why) {
        if (!table.has(key)) return;
        table.complain(key, fmt::format("{} of a {}", key, joint), fmt::format("nothing: {}", why),
                       "take it out");
    };
    refuse(given, "missing", "only a bird has limbs to miss");
    refuse(given, "giblets", "only a bird has giblets");
    if (!tape) return;
    for (const char* key : {"breast_width", "girth", "leg_splay"}) {
        refuse(*tape, key, "only a bird has that measure; a joint has length, width and depth");
    }
}

}  // namespace

std::string known_shape(const std::string& written) {
    for (std::string& known : body::shape_names()) {
        if (same_name(known, written)) return std::move(known);
    }
    return "";
}

std::optional<body::Body> read_shape(TableReader& given, const KeptFiles* kept) {
    const std::size_t before = given.complaints().count();
    body::ShapeOptions options;
    options.species = read_name(given);
    const bool joint = !options.species.empty() && !body::is_bird(options.species);
    given.require("mass");
    options.mass_kg = given.quantity("mass").value_or(0);
    options.trussing = read_trussing(given, options.species);
    options.missing = given.words("missing");
    read_contents(given, options);
    std::optional<TableReader> tape = given.table("tape");
    if (tape) options.tape = read_tape(*tape);
    if (joint && body::trussings(options.species).empty()) refuse_ties(given, options.species);
    if (joint) refuse_what_birds_have(given, tape, options.species);
    if (given.complaints().count() != before) return std::nullopt;
    try {
        return body::kept_shape(options, kept);
    } catch (const InputError& error) {
        // It names the key that it minds.
        const std::string& key = error.complaints().front().key;
        TableReader& table = tape && tape->node().find(key) != nullptr ? *tape : given;
        complain_at(table, table.node().find(key) != nullptr ? key : "shape", error);
        return std::nullopt;
    }
}

}  // namespace evenspit
