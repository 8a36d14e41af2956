// SPDX-License-Identifier: MIT
#include "load/rig_reader.h"

#include <array>
#include <numbers>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "units/metric.h"
#include "units/quantity.h"

namespace evenspit {

namespace {

using enum Dimension;

// Common practice, no source: forks have two to six tines.
constexpr std::size_t most_tines = 50;
// With more the shaft would turn right round before it takes the rod along.
constexpr double most_play_rad = 2 * std::numbers::pi;

// A named material from the models.
Material read_named_material(TableReader& rod, const std::string& name, Reading& reading) {
    Material material;
    material.name = name;
    const auto file = read_model(rod, "material", "material", name, reading);
    if (!file) return material;
    TableReader reader(*file, key_table("material"), "", reading.complaints);
    material.youngs_modulus_pa = reader.quantity("youngs_modulus").value_or(0);
    material.yield_strength_pa = reader.quantity("yield_strength").value_or(0);
    material.density_kg_m3 = reader.quantity("density").value_or(0);
    for (TableReader& row : reader.tables("hot")) {
        HotFactor factor;
        factor.temperature_k = row.quantity("temperature").value_or(0);
        factor.modulus = row.number_or_usual("modulus");
        factor.strength = row.number_or_usual("strength");
        row.refuse_unknown();
        if (!material.hot.empty() && factor.temperature_k <= material.hot.back().temperature_k) {
            row.complain("temperature", metric(factor.temperature_k, temperature),
                         "temperatures that rise from row to row", "");
        }
        material.hot.push_back(factor);
    }
    reader.refuse_unknown();
    return material;
}

Material read_material(TableReader& rod, Reading& reading) {
    const auto name = rod.text("material");
    Material material;
    if (name) {
        material = read_named_material(rod, *name, reading);
    } else if (!rod.has("youngs_modulus") && !rod.has("yield_strength") && !rod.has("density")) {
        rod.missing("material", "a material, or its youngs_modulus, yield_strength and density",
                    "add material = \"stainless steel\"");
        return material;
    }
    if (!name) {
        for (const char* const key : {"youngs_modulus", "yield_strength", "density"}) rod.require(key);
    }
    // What is given stands as it is, at whatever temperature; the rest of a named material still weakens with
    // heat.
    if (const auto modulus = rod.quantity("youngs_modulus")) {
        material.youngs_modulus_pa = *modulus;
        for (HotFactor& row : material.hot) row.modulus = 1;
    }
    if (const auto strength = rod.quantity("yield_strength")) {
        material.yield_strength_pa = *strength;
        for (HotFactor& row : material.hot) row.strength = 1;
    }
    if (const auto own_density = rod.quantity("density")) material.density_kg_m3 = *own_density;
    return material;
}

// Complains unless a stretch of the rod lies on it.
void keep_stretch_on_rod(TableReader& rod, std::string_view key,
                         const std::optional<std::array<double, 2>>& stretch,
                         std::optional<double> length_m) {
    if (!stretch || !length_m || ((*stretch)[0] >= 0 && (*stretch)[1] <= *length_m)) return;
    rod.complain(key, fmt::format("{} to {}", metric((*stretch)[0], length), metric((*stretch)[1], length)),
                 fmt::format("stations on the rod, from 0 to its length, {}", metric(*length_m, length)), "");
}

bool weakens(const Material& material) {
    for (const HotFactor& row : material.hot) {
        if (row.modulus != 1 || row.strength != 1) return true;
    }
    return false;
}

// How a fork is held on the rod.
void read_hold(TableReader& reader, Fork& fork, Reading& reading) {
    fork.bore = reader.choice("bore", section_words());
    const std::optional<Section> rod = reading.section;
    if (fork.bore && rod && *fork.bore != *rod && *fork.bore != Section::round) {
        reading.remarks.push_back(fmt::format(
            "The {} bore of {} does not fit a {} rod: only the clamp screw keeps it from turning.",
            word_for(section_words(), *fork.bore), reader.path(), word_for(section_words(), *rod)));
    }
    if (auto clamp = reader.table("clamp")) {
        fork.clamp.screw_m = clamp->quantity_or_usual("screw");
        fork.clamp.torque_n_m = clamp->quantity_or_usual("torque");
        clamp->refuse_unknown();
    }
}

}  // namespace

Rod read_rod(TableReader& given, std::optional<double> cooker_temperature_k, Reading& reading) {
    const WithModel merged =
        over_model(given, "rod", {{"material", {"youngs_modulus", "yield_strength", "density"}}}, reading);
    TableReader reader(merged.table, given.keys(), given.path(), reading.complaints);
    if (!merged.complete) reader.forgive_missing();

    Rod rod;
    const auto section = reader.choice("section", section_words());
    reading.section = section;
    rod.section = section.value_or(rod.section);
    rod.width_m = reader.quantity("width").value_or(0);
    const auto rod_length = reader.quantity("length");
    const auto supports = reader.stretch("supports");
    const auto usable = reader.stretch("usable");
    reading.rod_length_m = rod_length;
    keep_stretch_on_rod(reader, "supports", supports, rod_length);
    keep_stretch_on_rod(reader, "usable", usable, rod_length);
    rod.length_m = rod_length.value_or(0);
    rod.supports_m = supports.value_or(rod.supports_m);
    rod.usable_m = usable.value_or(rod.usable_m);
    rod.material = read_material(reader, reading);

    if (const auto own = reader.quantity("temperature")) {
        rod.temperature_k = *own;
    } else if (cooker_temperature_k) {
        rod.temperature_k = *cooker_temperature_k;
    } else {
        rod.temperature_k = hot_rod_k;
        if (weakens(rod.material)) {
            reading.remarks.push_back(fmt::format(
                "The rod is taken as hot ({}; common practice, no source): neither rod.temperature nor "
                "cook.cooker_temperature is given, and hot steel is softer and weaker.",
                metric(hot_rod_k, temperature)));
        }
    }
    rod.bushing = reader.flag_or_usual("bushing");
    if (const auto mark = reader.quantity("mark")) {
        keep_on_rod(reader, "mark", *mark, reading);
        rod.mark_m = mark;
    }
    reader.refuse_unknown();
    return rod;
}

Motor read_motor(TableReader& given, Reading& reading) {
    const WithModel merged = over_model(
        given, "motor",
        {{"friction_torque", {"support_friction"}}, {"support_friction", {"friction_torque"}}}, reading);
    TableReader reader(merged.table, given.keys(), given.path(), reading.complaints);
    if (!merged.complete) reader.forgive_missing();

    Motor motor;
    motor.name = merged.model.empty() ? "motor" : merged.model;
    if (!reader.has("kind") && merged.complete) {
        reading.remarks.emplace_back(
            "The motor's kind is not given; it is taken as a dc motor, whose speed falls in a line from "
            "no-load to stall.");
    }
    motor.kind = reader.choice_or_usual("kind", motor_kind_words());
    const auto rated = reader.quantity("rated_torque");
    const auto stall = reader.quantity("stall_torque");
    if (rated && stall && *rated > *stall) {
        reader.complain("rated_torque", metric(*rated, torque),
                        fmt::format("at most the stall_torque, {}", metric(*stall, torque)),
                        "the rated torque is what the motor gives for hours, the stall torque what stops it");
    }
    motor.rods = reader.count_or_usual("rods");
    motor.rated_torque_n_m = rated.value_or(0) / motor.rods;
    motor.stall_torque_n_m = stall.value_or(0) / motor.rods;
    motor.speed_rad_s = reader.quantity("speed").value_or(0);

    motor.friction_torque_n_m = reader.quantity("friction_torque");
    if (reader.has("friction_torque") && reader.has("support_friction")) {
        reader.complain("friction_torque", "friction_torque beside support_friction", "one of the two",
                        "a torque for the whole, or a coefficient that makes one from the load");
    } else if (!reader.has("friction_torque") && !reader.has("support_friction") && merged.complete) {
        reading.remarks.push_back(fmt::format(
            "The friction coefficient at the supports is taken as {} (common practice, no source).",
            usual_support_friction));
    }
    motor.support_friction = reader.number_or_usual("support_friction");
    motor.play_rad = reader.quantity_or_usual("play");
    if (motor.play_rad >= most_play_rad) {
        reader.complain("play", metric(motor.play_rad, angle), "less than one turn",
                        R"(give how far the output shaft turns freely, like "3 deg")");
    }
    motor.drive_stiffness_n_m_rad = reader.quantity("drive_stiffness");
    reader.refuse_unknown();
    return motor;
}

Fork read_fork(TableReader& given, Reading& reading) {
    const WithModel merged = over_model(given, "fork", {}, reading);
    TableReader reader(merged.table, given.keys(), given.path(), reading.complaints);
    if (!merged.complete) reader.forgive_missing();

    Fork fork;
    fork.at_m = read_station(reader, "at", reading);
    fork.points = reader.choice("points", facing_words()).value_or(Facing::point);
    fork.mass_kg = reader.quantity("mass").value_or(0);
    // Turns the fork as a whole on the rod, so that a model's tines need not be written again.
    fork.clock_rad = reader.quantity_or_usual("clock");
    read_hold(reader, fork, reading);
    for (TableReader& row : reader.tables("tine", most_tines)) {
        Tine tine;
        tine.clock_rad = row.quantity("clock").value_or(0);
        tine.radius_m = row.quantity("radius").value_or(0);
        tine.length_m = row.quantity("length").value_or(0);
        tine.diameter_m = row.quantity("diameter").value_or(0);
        row.refuse_unknown();
        fork.tines.push_back(tine);
    }
    const TomlNode* tines = reader.find("tine");
    if (tines == nullptr || (tines->kind == TomlNode::Kind::array && tines->elements.empty())) {
        reader.missing(
            "tine", "at least one tine",
            R"(add tine = [ { clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" } ])");
    }
    reader.refuse_unknown();
    return fork;
}

Fork read_bracket(TableReader& given, Reading& reading) {
    const WithModel merged = over_model(given, "bracket", {}, reading);
    TableReader reader(merged.table, given.keys(), given.path(), reading.complaints);
    if (!merged.complete) reader.forgive_missing();

    Fork bracket{.kind = ForkKind::bracket};
    bracket.at_m = read_station(reader, "at", reading);
    bracket.mass_kg = reader.quantity("mass").value_or(0);
    bracket.clock_rad = reader.quantity("clock").value_or(0);
    const double apart_m = reader.quantity("apart").value_or(0);
    Tine leg{.clock_rad = 0, .radius_m = apart_m / 2};
    leg.length_m = reader.quantity("length").value_or(0);
    leg.diameter_m = reader.quantity("diameter").value_or(0);
    if (apart_m > 0 && apart_m <= leg.diameter_m) {
        reader.complain("apart", metric(apart_m, length),
                        fmt::format("more than a leg is thick, {}", metric(leg.diameter_m, length)),
                        "measure from the middle of one leg to the middle of the other");
    }
    bracket.tines = {leg, leg};
    bracket.tines[1].radius_m = -leg.radius_m;
    read_hold(reader, bracket, reading);
    reader.refuse_unknown();
    return bracket;
}

Fork read_basket(TableReader& given, Reading& reading) {
    const WithModel merged = over_model(
        given, "basket",
        {{"diameter", {"width", "height"}}, {"width", {"diameter"}}, {"height", {"diameter"}}}, reading);
    TableReader reader(merged.table, given.keys(), given.path(), reading.complaints);
    if (!merged.complete) reader.forgive_missing();

    Fork basket{.kind = ForkKind::basket};
    basket.at_m = read_station(reader, "at", reading);
    basket.mass_kg = reader.quantity("mass").value_or(0);
    basket.clock_rad = reader.quantity_or_usual("clock");
    basket.cage.length_m = reader.quantity("length").value_or(0);
    const auto width = reader.quantity("width"), height = reader.quantity("height"),
               diameter = reader.quantity("diameter");
    if (reader.has("diameter") && (reader.has("width") || reader.has("height"))) {
        reader.complain("diameter", "diameter beside width or height", "one of the two",
                        "a drum has a diameter, a flat basket a width and a height");
    } else if (!reader.has("diameter")) {
        if (!reader.has("width") && !reader.has("height") && merged.complete) {
            reader.missing("width", "its sizes",
                           R"(add width = "180 mm" and height = "45 mm", or diameter = "180 mm" of a drum)");
        } else {
            for (const char* const key : {"width", "height"}) reader.require(key);
        }
    }
    basket.cage.round = diameter.has_value();
    basket.cage.width_m = diameter.value_or(width.value_or(0));
    basket.cage.height_m = diameter.value_or(height.value_or(0));
    basket.cage.contents_kg = reader.quantity("contents").value_or(0);
    read_hold(reader, basket, reading);
    reader.refuse_unknown();
    return basket;
}

Counterweight read_counterweight(TableReader& given, const Reading& reading) {
    Counterweight weight;
    weight.at_m = read_station(given, "at", reading);
    weight.mass_kg = given.quantity("mass").value_or(0);
    weight.radius_m = given.quantity("radius").value_or(0);
    weight.clock_rad = given.quantity("clock").value_or(0);
    weight.diameter_m = given.quantity("diameter").value_or(0);
    given.refuse_unknown();
    return weight;
}

std::vector<StockWeight> read_stock(TableReader& given) {
    std::vector<StockWeight> stock;
    for (TableReader& row : given.tables("counterweights")) {
        StockWeight weight;
        weight.mass_kg = row.quantity("mass").value_or(0);
        weight.diameter_m = row.quantity("diameter").value_or(0);
        if (const auto radius = row.quantities("radius")) {
            weight.radius_min_m = (*radius)[0];
            weight.radius_max_m = (*radius)[1];
            if (weight.radius_min_m < 0 || weight.radius_min_m > weight.radius_max_m) {
                row.complain("radius",
                             fmt::format("{} to {}", metric(weight.radius_min_m, length),
                                         metric(weight.radius_max_m, length)),
                             "the least and the greatest radius, not below zero", "");
            }
        }
        row.refuse_unknown();
        stock.push_back(weight);
    }
    given.refuse_unknown();
    return stock;
}

}  // namespace evenspit
