// SPDX-License-Identifier: MIT
// The keys of what is roasted.
#include "body/shape.h"
#include "load/assembly.h"
#include "load/key_rows.h"
#include "load/key_words.h"
#include "load/path_keys.h"
#include "load/shape_reader.h"

namespace evenspit::key_rows {
namespace {

using Keys = std::vector<LoadKey>;

Keys place_keys() {
    using enum Dimension;
    return {needed(quantity("at", length, Range::any, R"("340 mm")",
                            "Place of its middle, from the rod's square end")),
            usually(word_for(facing_words(), Seat{}.facing),
                    word("facing", names_of(facing_words()), R"("drive")",
                         "Which way a bird's neck looks: to the rod's point, or to the drive")),
            usually(Seat{}.turn_rad,
                    quantity("turn", angle, Range::any, R"("30 deg")", "How it is turned on the rod")),
            in_words("through its middle",
                     plain("line", KeyForm::table, R"({ from = ["4 mm", "-6 mm"], to = ["2 mm", "-1 mm"] })",
                           "Where the rod goes through it"))};
}

Keys body_keys() {
    using enum Dimension;
    LoadKey shape = only_with(
        "no scan", plain("shape", KeyForm::name, R"("turkey")", "What it is, where there is no scan of it"));
    shape.words = body::shape_names();
    return {plain("name", KeyForm::text, R"("turkey")",
                  "What results call it; else what it is, numbered where there are several"),
            std::move(shape),
            only_with("no shape", plain(item_scan.key, KeyForm::files, R"("goose.ply")",
                                        "A scan of it; several go with clean = true")),
            quantity("mass", mass, Range::positive, R"("13 lb")",
                     "What the scale says, giblets out; a shape needs it"),
            usually(Item{}.trussed, flag("trussed", "false", "Whether its limbs are tied to it")),
            word("cavity", names_of(cavity_words()), R"("empty")", "Says that nothing is inside")};
}

Keys shape_only_keys() {
    using enum Dimension;
    Keys keys{
        word("trussing", names_of(trussing_words()), R"("legs tied")",
             "How limbs are tied: a bird's tight, with its wings free or not at all; a pig's legs folded "
             "over the belly, stretched along the rod or not at all"),
        plain("missing", KeyForm::words, R"(["left wing"])",
              "Limbs that were torn off; the scale weight is without them"),
        quantity("stuffing", mass, Range::positive, R"("700 g")", "On top of the scale weight"),
        in_words("bread stuffing, as it is spooned in",
                 quantity("stuffing_density", density, Range::positive, R"("700 kg/m3")",
                          "How heavy the stuffing is for its size")),
        quantity("giblets", mass, Range::positive, R"("200 g")", "The bag, if it is still inside"),
        plain("tape", KeyForm::table, R"({ length = "37 cm", girth = "66 cm" })",
              "What a tape measures of it")};
    keys[0] = in_words("tight, of a pig folded", std::move(keys[0]));
    keys[1].words = body::bird_limbs();
    for (LoadKey& key : keys) key.only_with = "shape";
    return keys;
}

Keys scan_only_keys() {
    using enum Dimension;
    Keys keys{in_words("m", plain("scan_unit", KeyForm::length_unit, R"("mm")",
                                  "Of the scan, where its format has none")),
              usually(1.0, bare_number("scale", Range::positive, "0.98", "Makes the scan larger or smaller")),
              quantity("density", density, Range::positive, R"("1060 kg/m3")",
                       "Gives its mass, where there is none"),
              in_words("file; auto with clean = true",
                       word("frame", names_of(frame_words()), R"("auto")",
                            "Whether the file's own axes count, or axes found in the scan")),
              usually(false, flag("clean", "true", "Closes a rough scan first"))};
    for (LoadKey& key : keys) key.only_with = "scan";
    for (const auto& [name, meaning] : {std::pair{"axis", "Where the neck looks, in the file's axes"},
                                        std::pair{"up", "Where the breast looks, in the file's axes"}})
        keys.push_back(only_with("clean = true",
                                 plain(name, KeyForm::direction,
                                       std::string_view(name) == "up" ? "[0, 0, 1]" : "[1, 0, 0]", meaning)));
    keys.push_back(only_with("clean = true",
                             in_words(as_it_looks, word("rests_on", names_of(rests_on_words()), R"("rack")",
                                                        "What it lay on while it was scanned"))));
    keys.push_back(only_with(
        "clean = true",
        in_words(as_it_looks, word("kind", names_of(roast_kind_words()), R"("ribs")",
                                   "What it is: a roast is solid beneath, ribs are hollow there"))));
    keys.push_back(only_with(
        "clean = true", plain("beside", KeyForm::text, R"("can 73 mm")",
                              "What stood beside it: a can and its width across, a block and its height")));
    return keys;
}

Keys meat_keys() {
    using enum Dimension;
    const auto kind = [](LoadKey key) { return in_words("its kind's", std::move(key)); };
    return {kind(quantity("bearing_strength", pressure, Range::positive, R"("120 kPa")",
                          "What its flesh bears where a tine presses, raw and done")),
            kind(quantity("conductivity", conductivity, Range::positive, R"x("0.5 W/(m K)")x",
                          "How well it conducts heat")),
            kind(quantity("specific_heat", specific_heat, Range::positive, R"x("3500 J/(kg K)")x",
                          "What it takes to warm it")),
            usually(Item{}.evaporation, flag("evaporation", "false", "Whether its skin dries")),
            plain("probe", KeyForm::tables, "", "Places whose temperature roast tells")};
}

KeyTable item_table() {
    KeyTable table{.path = "item", .about = "What is roasted, one section each", .is_list = true};
    for (const Keys& keys : {body_keys(), place_keys(), shape_only_keys(), scan_only_keys(), meat_keys()})
        table.keys.insert(table.keys.end(), keys.begin(), keys.end());
    return table;
}

KeyTable line_table() {
    const auto end = [](std::string_view name, std::string_view meaning) {
        return needed(lengths(name, 2, R"(["4 mm", "-6 mm"])", meaning));
    };
    return {.path = "item.line",
            .about = "The rod's way through an item, in the item's own axes: to the side, and up",
            .keys = {end("from", "At a bird's vent; at the end with the least x"),
                     end("to", "At a bird's neck; at the end with the greatest x")}};
}

KeyTable tape_table() {
    KeyTable table{.path = "item.tape", .about = "What a tape measures of a shape"};
    for (const TapeKey& key : tape_keys)
        table.keys.push_back(quantity(key.key, Dimension::length, Range::positive, key.example, key.meaning));
    return table;
}

KeyTable probe_table() {
    return {.path = "item.probe",
            .about = "A place in an item whose temperature roast tells",
            .is_list = true,
            .keys = {needed(plain("name", KeyForm::text, R"("thick end")", "What results call it")),
                     needed(lengths("at", 3, R"(["40 mm", "30 mm", "60 mm"])",
                                    "Where it is, in the item's own axes"))}};
}

}  // namespace

std::vector<KeyTable> item_tables() {
    return {item_table(), line_table(), tape_table(), probe_table()};
}

}  // namespace evenspit::key_rows
