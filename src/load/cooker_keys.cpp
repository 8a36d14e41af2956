// SPDX-License-Identifier: MIT
// The keys of the cooker and of its surfaces.
#include "load/key_rows.h"
#include "load/key_words.h"
#include "load/path_keys.h"
#include "load/surface_reader.h"

namespace evenspit::key_rows {
namespace {

KeyTable cooker_table() {
    return {.path = "cooker",
            .about = "The cooker",
            .keys = {
                plain("model", KeyForm::name, R"("kettle-57")",
                      "A cooker of models/; surfaces beside it are added to its own"),
                plain("kind", KeyForm::text, R"("kettle")", "What it is called"),
                usually(word_for(wall_words(), Cooker{}.wall),
                        word("wall", names_of(wall_words()), R"("ceramic")", "What its walls are of")),
                in_words("{} by {}",
                         lengths("slot", 2, R"(["25 mm", "40 mm"])",
                                 "Width and height of each slot that the rod goes through"),
                         {{Cooker{}.slot_m[0], Dimension::length}, {Cooker{}.slot_m[1], Dimension::length}}),
                plain("surface", KeyForm::tables, "", "What the load must not touch, one section each"),
            }};
}

KeyTable surface_table() {
    using enum Dimension;
    const auto of = [](SurfaceKind kind, LoadKey key) {
        switch (kind) {
            case SurfaceKind::plane:
                return needed(only_with(R"(shape = "plane")", std::move(key)));
            case SurfaceKind::box:
                return needed(only_with(R"(shape = "box")", std::move(key)));
            case SurfaceKind::revolved:
                return needed(only_with(R"(shape = "revolved")", std::move(key)));
            case SurfaceKind::mesh:
                break;
        }
        return only_with(R"(shape = "mesh")", std::move(key));
    };
    using enum SurfaceKind;
    return {
        .path = "cooker.surface",
        .about = "A surface of the cooker, one section each; X runs along the rod, Z up",
        .is_list = true,
        .keys = {
            needed(plain("name", KeyForm::text, R"("coal bed")", "What results call it")),
            needed(word("shape", names_of(surface_kind_words()), R"("box")", "How it is given")),
            of(plane, lengths("point", 3, R"(["0 mm", "0 mm", "-200 mm"])", "A place on the plane")),
            of(plane, plain("normal", KeyForm::direction, "[0, 0, 1]",
                            "Where its free side looks, in plain numbers")),
            of(box, lengths("min", 3, R"(["150 mm", "-150 mm", "-300 mm"])", "One corner of the box")),
            of(box, lengths("max", 3, R"(["530 mm", "150 mm", "-220 mm"])", "The corner opposite")),
            of(revolved, lengths("centre", 3, R"(["340 mm", "0 mm", "0 mm"])",
                                 "The middle that heights are measured from")),
            of(revolved, plain("profile", KeyForm::profile, R"([["0 mm", "-200 mm"], ["200 mm", "0 mm"]])",
                               "Half of its outline: radius and height, point by point")),
            needed(of(mesh, plain(surface_mesh.key, KeyForm::file, R"("lid.stl")", "A mesh of it"))),
            in_words("m", of(mesh, plain("unit", KeyForm::length_unit, R"("mm")",
                                         "Of the mesh, where its format has none"))),
            usually(false, flag("fire", "true", "Whether it burns")),
            in_words("from the cook",
                     quantity("temperature", temperature, Range::any, R"("700 degC")", "How hot it is")),
            in_words("{}, {} from fire",
                     quantity("keep", length, Range::not_negative, R"("50 mm")", "The gap to keep from it"),
                     {{usual_keep_m, length}, {usual_fire_keep_m, length}}),
        }};
}

}  // namespace

std::vector<KeyTable> cooker_tables() {
    return {cooker_table(), surface_table()};
}

}  // namespace evenspit::key_rows
