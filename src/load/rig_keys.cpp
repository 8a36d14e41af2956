// SPDX-License-Identifier: MIT
// The keys of what is of metal: rod, motor, forks, weights, and the materials of rods.
#include "load/key_rows.h"
#include "load/key_words.h"
#include "load/rig_reader.h"

namespace evenspit::key_rows {
namespace {

constexpr Range above_zero = Range::positive, from_zero = Range::not_negative, any_size = Range::any;

LoadKey model_key(std::string_view example, std::string_view meaning) {
    return plain("model", KeyForm::name, example, meaning);
}

LoadKey clock_key(std::string_view meaning) {
    return quantity("clock", Dimension::angle, any_size, R"("210 deg")", meaning);
}

/// What a material is, on a rod or in a file of its own.
std::vector<LoadKey> material_keys() {
    using enum Dimension;
    return {quantity("youngs_modulus", pressure, above_zero, R"("193 GPa")",
                     "How stiff the steel is: Young's modulus"),
            quantity("yield_strength", pressure, above_zero, R"("205 MPa")",
                     "The stress at which the rod stays bent"),
            quantity("density", density, above_zero, R"("7900 kg/m3")", "What the steel weighs")};
}

KeyTable rod_table() {
    using enum Dimension;
    KeyTable table{.path = "rod",
                   .about = "The rod",
                   .keys = {
                       model_key(R"("square-8mm")", "A rod of models/; keys beside it overrule it"),
                       needed(word("section", names_of(section_words()), R"("square")",
                                   "The shape that you see when you look at the rod's end")),
                       needed(quantity("width", length, above_zero, R"("8 mm")",
                                       "Side of a square, diameter, or width across flats")),
                       needed(quantity("length", length, above_zero, R"("760 mm")", "The whole rod")),
                       needed(lengths("supports", 2, R"(["20 mm", "660 mm"])",
                                      "Where it is carried, from its square end: motor, far bearing")),
                       needed(lengths("usable", 2, R"(["60 mm", "620 mm"])",
                                      "Between which places meat, forks and weights may sit")),
                       plain("material", KeyForm::name, R"("stainless steel")",
                             "A steel of models/; or give the next three keys"),
                   }};
    for (LoadKey& key : material_keys()) table.keys.push_back(in_words("the material's", std::move(key)));
    const std::vector<LoadKey> rest = {
        in_words("cook.cooker_temperature, else {}",
                 quantity("temperature", temperature, any_size, R"("250 degC")",
                          "How hot the rod gets; hot steel is weaker"),
                 {{hot_rod_k, temperature}}),
        usually(Rod{}.bushing, flag("bushing", "false", "Whether a round bushing carries its far end")),
        quantity("mark", length, any_size, R"("40 mm")", "Place of a shoulder from which you measure, too"),
    };
    table.keys.insert(table.keys.end(), rest.begin(), rest.end());
    return table;
}

KeyTable motor_table() {
    using enum Dimension;
    return {.path = "motor",
            .about = "The motor with its gears",
            .keys = {
                model_key(R"("dc-gearmotor-12v")", "A motor of models/; keys beside it overrule it"),
                usually(motor_kind_words().front().first,
                        word("kind", names_of(motor_kind_words()), R"("synchronous")",
                             "Of direct current, which slows down under load, or synchronous")),
                needed(quantity("rated_torque", torque, above_zero, R"("2.5 N m")",
                                "What it turns for hours, by its plate")),
                needed(quantity("stall_torque", torque, above_zero, R"("5 N m")", "What stops it")),
                needed(quantity("speed", angular_speed, above_zero, R"("3 rpm")",
                                "How fast it turns; of a dc motor, with no load")),
                usually(static_cast<double>(Motor{}.rods),
                        whole_number("rods", "6",
                                     "How many rods like this one the motor turns at once: each gets its "
                                     "share of both torques")),
                usually(usual_support_friction,
                        bare_number("support_friction", from_zero, "0.15",
                                    "Friction coefficient where the rod lies on its supports")),
                in_words("from support_friction",
                         quantity("friction_torque", torque, from_zero, R"("0.05 N m")",
                                  "The friction as a torque, in the coefficient's place")),
                usually(Motor{}.play_rad,
                        quantity("play", angle, from_zero, R"("3 deg")", "How far the shaft turns freely")),
                in_words("rigid", quantity("drive_stiffness", torsional_stiffness, above_zero,
                                           R"("200 N m/rad")", "How springy gears and coupling are")),
            }};
}

std::vector<KeyTable> clamp_tables() {
    using enum Dimension;
    const Clamp usual;
    std::vector<KeyTable> tables;
    for (const auto& [path, about] :
         {std::pair{"fork.clamp", "The screw that holds a fork"},
          std::pair{"bracket.clamp", "The screw that holds a bracket on the rod"},
          std::pair{"basket.clamp", "The screw that holds a basket on the rod"}}) {
        tables.push_back(
            {.path = path,
             .about = about,
             .keys = {usually(usual.screw_m,
                              quantity("screw", length, above_zero, R"("6 mm")", "Diameter of its thread")),
                      usually(usual.torque_n_m, quantity("torque", torque, above_zero, R"("2 N m")",
                                                         "What it is tightened with; a hand gives 2 N m"))}});
    }
    return tables;
}

std::vector<KeyTable> fork_tables() {
    using enum Dimension;
    return {{.path = "fork",
             .about = "A fork, one section each",
             .is_list = true,
             .keys =
                 {
                     model_key(R"("two-tine")", "A fork of models/; keys beside it overrule it"),
                     needed(quantity("at", length, any_size, R"("190 mm")",
                                     "Place of its hub, from the rod's square end")),
                     needed(word("points", names_of(facing_words()), R"("point")",
                                 "Which way its tines look: to the rod's point, or to the drive")),
                     needed(quantity("mass", mass, from_zero, R"("160 g")", "What it weighs")),
                     usually(0.0, clock_key("How the whole fork is turned on the rod")),
                     in_words("the rod's section",
                              word("bore", names_of(section_words()), R"("round")", "The shape of its hole")),
                     plain("clamp", KeyForm::table, R"({ screw = "6 mm", torque = "2 N m" })",
                           "The screw that holds it"),
                     needed(plain(
                         "tine", KeyForm::tables,
                         R"([ { clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" } ])",
                         "Its tines, one after the other")),
                 }},
            clamp_tables()[0],
            {.path = "fork.tine",
             .about = "A tine of a fork",
             .is_list = true,
             .keys = {needed(clock_key("Where round the hub it sits")),
                      needed(quantity("radius", length, above_zero, R"("32 mm")",
                                      "From the rod's middle to the tine's middle")),
                      needed(quantity("length", length, above_zero, R"("95 mm")", "From the hub to its tip")),
                      needed(quantity("diameter", length, above_zero, R"("5 mm")", "How thick it is"))}}};
}

KeyTable bracket_table() {
    using enum Dimension;
    return {
        .path = "bracket",
        .about =
            "A spine bracket, one section each: two legs go out through the back, one on each side of the "
            "spine, and a plate is bolted on them",
        .is_list = true,
        .keys = {
            model_key(R"("spine-bracket")", "A bracket of models/; keys beside it overrule it"),
            needed(quantity("at", length, any_size, R"("420 mm")", "Its place, from the rod's square end")),
            needed(clock_key("Where its legs run to: where the back is")),
            needed(quantity("apart", length, above_zero, R"("50 mm")",
                            "From the middle of one leg to the other's")),
            needed(quantity("length", length, above_zero, R"("140 mm")",
                            "From the rod's middle to the ends of the legs")),
            needed(quantity("diameter", length, above_zero, R"("8 mm")", "How thick a leg is")),
            needed(
                quantity("mass", mass, from_zero, R"("420 g")", "What it weighs, plate and nuts included")),
            in_words("the rod's section", word("bore", names_of(section_words()), R"("round")",
                                               "The shape of its seat on the rod")),
            plain("clamp", KeyForm::table, R"({ screw = "8 mm", torque = "4 N m" })",
                  "The screw that holds it on the rod"),
        }};
}

KeyTable basket_table() {
    using enum Dimension;
    return {
        .path = "basket",
        .about =
            "A wire basket round the rod, one section each: flat, and closed on what lies in it, or a round "
            "drum in which loose pieces tumble",
        .is_list = true,
        .keys = {
            model_key(R"("flat-basket")", "A basket of models/; keys beside it overrule it"),
            needed(quantity("at", length, any_size, R"("340 mm")",
                            "Place of its middle, from the rod's square end")),
            needed(quantity("length", length, above_zero, R"("300 mm")", "How long it is, along the rod")),
            quantity("width", length, above_zero, R"("180 mm")", "Of a flat one: how wide it is"),
            quantity("height", length, above_zero, R"("45 mm")", "Of a flat one: how thick it is, closed"),
            quantity("diameter", length, above_zero, R"("180 mm")",
                     "Of a drum, in place of width and height"),
            needed(quantity("mass", mass, from_zero, R"("650 g")", "What it weighs, empty")),
            quantity("contents", mass, above_zero, R"("1.2 kg")",
                     "Loose pieces in it that are no [[item]]: wings, chestnuts, cut vegetables"),
            usually(0.0, clock_key("Of a flat one: which way its flat side looks")),
            in_words("the rod's section",
                     word("bore", names_of(section_words()), R"("round")", "The shape of its hole")),
            plain("clamp", KeyForm::table, R"({ screw = "6 mm", torque = "2 N m" })",
                  "The screw that holds it"),
        }};
}

std::vector<KeyTable> weight_tables() {
    using enum Dimension;
    const auto diameter = needed(quantity("diameter", length, above_zero, R"("40 mm")", "How wide it is"));
    return {{.path = "counterweight",
             .about = "A counterweight on the rod, one section each",
             .is_list = true,
             .keys = {needed(quantity("at", length, any_size, R"("90 mm")",
                                      "Its place, from the rod's square end")),
                      needed(quantity("mass", mass, from_zero, R"("300 g")", "What it weighs")),
                      needed(quantity("radius", length, from_zero, R"("70 mm")",
                                      "From the rod's middle to the weight's middle")),
                      needed(clock_key("Where round the rod it sits")), diameter}},
            {.path = "stock",
             .about = "What lies ready",
             .keys = {plain("counterweights", KeyForm::tables,
                            R"([ { mass = "300 g", radius = ["40 mm", "110 mm"], diameter = "40 mm" } ])",
                            "The weights that plan and roll may use, each once")}},
            {.path = "stock.counterweights",
             .about = "A counterweight that lies ready",
             .is_list = true,
             .keys = {needed(quantity("mass", mass, above_zero, R"("300 g")", "What it weighs")),
                      needed(lengths("radius", 2, R"(["40 mm", "110 mm"])",
                                     "How near to the rod's middle it can be set, and how far out")),
                      diameter}}};
}

}  // namespace

std::vector<KeyTable> rig_tables() {
    std::vector<KeyTable> tables{rod_table(), motor_table()};
    for (std::vector<KeyTable> more :
         {fork_tables(),
          std::vector<KeyTable>{bracket_table(), clamp_tables()[1], basket_table(), clamp_tables()[2]},
          weight_tables()}) {
        for (KeyTable& table : more) tables.push_back(std::move(table));
    }
    return tables;
}

std::vector<KeyTable> model_tables() {
    KeyTable material{.path = "material", .about = "A steel of models/materials", .keys = material_keys()};
    for (LoadKey& key : material.keys) key.need = Need::required;
    material.keys.push_back(plain("hot", KeyForm::tables,
                                  R"([ { temperature = "200 degC", modulus = 0.9, strength = 0.8 } ])",
                                  "What heat leaves of it, from row to row hotter"));
    const auto share = [](std::string_view name, std::string_view meaning) {
        return usually(1.0, bare_number(name, above_zero, "0.9", meaning));
    };
    return {{.path = "model",
             .about = "What every file of models/ begins with",
             .keys = {needed(plain("about", KeyForm::text, R"("Square rod, 8 mm")",
                                   "One line for the list of models")),
                      plain("source", KeyForm::text, R"("measured")", "Where its figures come from")}},
            std::move(material),
            {.path = "material.hot",
             .about = "What heat leaves of a steel",
             .is_list = true,
             .keys = {needed(quantity("temperature", Dimension::temperature, any_size, R"("200 degC")",
                                      "At this heat")),
                      share("modulus", "Share of its stiffness that is left"),
                      share("strength", "Share of its strength that is left")}}};
}

}  // namespace evenspit::key_rows
