// SPDX-License-Identifier: MIT
#include "load/key_words.h"

#include "body/shape.h"

namespace evenspit {

const KeyWords<Section>& section_words() {
    static const KeyWords<Section> words = {
        {"square", Section::square}, {"round", Section::round}, {"hexagon", Section::hexagon}};
    return words;
}

const KeyWords<MotorKind>& motor_kind_words() {
    static const KeyWords<MotorKind> words = {{"dc", MotorKind::dc}, {"synchronous", MotorKind::synchronous}};
    return words;
}

const KeyWords<Facing>& facing_words() {
    static const KeyWords<Facing> words = {{"point", Facing::point}, {"drive", Facing::drive}};
    return words;
}

const KeyWords<SurfaceKind>& surface_kind_words() {
    static const KeyWords<SurfaceKind> words = {{"plane", SurfaceKind::plane},
                                                {"box", SurfaceKind::box},
                                                {"revolved", SurfaceKind::revolved},
                                                {"mesh", SurfaceKind::mesh}};
    return words;
}

const KeyWords<WallKind>& wall_words() {
    static const KeyWords<WallKind> words = {{"ceramic", WallKind::ceramic},
                                             {"insulating brick", WallKind::insulating_brick},
                                             {"steel", WallKind::steel},
                                             {"insulated steel", WallKind::insulated_steel}};
    return words;
}

const KeyWords<FuelKind>& fuel_words() {
    static const KeyWords<FuelKind> words = {{"lump charcoal", FuelKind::lump_charcoal},
                                             {"briquettes", FuelKind::briquettes},
                                             {"wood", FuelKind::wood},
                                             {"gas", FuelKind::gas}};
    return words;
}

const KeyWords<CoalPlace>& coal_words() {
    static const KeyWords<CoalPlace> words = {{"as drawn", CoalPlace::as_drawn},
                                              {"under", CoalPlace::under},
                                              {"back", CoalPlace::back},
                                              {"front", CoalPlace::front},
                                              {"both sides", CoalPlace::both_sides}};
    return words;
}

const KeyWords<bool>& vents_words() {
    static const KeyWords<bool> words = {{"held", false}, {"left", true}};
    return words;
}

const KeyWords<body::Trussing>& trussing_words() {
    static const KeyWords<body::Trussing> words = {{"tight", body::Trussing::tight},
                                                   {"legs tied", body::Trussing::legs_tied},
                                                   {"loose", body::Trussing::loose},
                                                   {"folded", body::Trussing::folded},
                                                   {"stretched", body::Trussing::stretched}};
    return words;
}

KeyWords<body::Trussing> trussing_words_of(const std::string& shape) {
    KeyWords<body::Trussing> words;
    for (const body::Trussing way : body::trussings(shape))
        words.emplace_back(word_for(trussing_words(), way), way);
    return words;
}

const KeyWords<bool>& cavity_words() {
    static const KeyWords<bool> words = {{"empty", true}};
    return words;
}

const KeyWords<scan::RestsOn>& rests_on_words() {
    static const KeyWords<scan::RestsOn> words = {{"board", scan::RestsOn::board},
                                                  {"rack", scan::RestsOn::rack},
                                                  {"stand", scan::RestsOn::stand},
                                                  {"tin", scan::RestsOn::tin}};
    return words;
}

const KeyWords<scan::RoastKind>& roast_kind_words() {
    static const KeyWords<scan::RoastKind> words = {
        {"bird", scan::RoastKind::bird}, {"roast", scan::RoastKind::roast}, {"ribs", scan::RoastKind::ribs}};
    return words;
}

const KeyWords<bool>& frame_words() {
    static const KeyWords<bool> words = {{"file", true}, {"auto", false}};
    return words;
}

}  // namespace evenspit
