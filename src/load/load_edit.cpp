// SPDX-License-Identifier: MIT
#include "load/load_edit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "load/arrangement.h"
#include "load/load_text.h"
#include "load/path_keys.h"
#include "load/thing.h"
#include "load/toml_tree.h"
#include "units/error.h"
#include "units/toml_string.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;

std::string in_string(double si, Dimension dimension) {
    return toml_string(exact_quantity(si, dimension));
}
std::string facing_word(Facing facing) {
    return toml_string(facing == Facing::point ? "point" : "drive");
}
std::string point_text(const Vec2& p) {
    return fmt::format("[{}, {}]", in_string(p.x(), Dimension::length), in_string(p.y(), Dimension::length));
}

void write_seat(LoadText& load, const std::string& index, const Seat& before, const Seat& after) {
    const auto path = [&](const char* key) { return KeyPath{"item", index, key}; };
    if (before.at_m != after.at_m) load.set(path("at"), in_string(after.at_m, Dimension::length));
    if (before.facing != after.facing) load.set(path("facing"), facing_word(after.facing));
    if (before.turn_rad != after.turn_rad)
        load.set(path("turn"), in_string(after.turn_rad, Dimension::angle));
    if (before.line.from == after.line.from && before.line.to == after.line.to) return;
    const std::string from = point_text(after.line.from), to = point_text(after.line.to);
    if (load.has(path("line"))) {
        load.set({"item", index, "line", "from"}, from);
        load.set({"item", index, "line", "to"}, to);
    } else {
        load.set(path("line"), fmt::format("{{ from = {}, to = {} }}", from, to));
    }
}

void write_fork(LoadText& load, const ForkSection& section, const Fork& before, const Fork& after) {
    const auto path = [&](const char* key) {
        return KeyPath{std::string(section.name), std::to_string(section.number), key};
    };
    if (before.at_m != after.at_m) load.set(path("at"), in_string(after.at_m, Dimension::length));
    if (before.points != after.points) load.set(path("points"), facing_word(after.points));
    if (before.clock_rad != after.clock_rad)
        load.set(path("clock"), in_string(after.clock_rad, Dimension::angle));
}

std::vector<std::pair<std::string, std::string>> counterweight_keys(const Counterweight& weight) {
    return {{"at", in_string(weight.at_m, Dimension::length)},
            {"mass", in_string(weight.mass_kg, Dimension::mass)},
            {"radius", in_string(weight.radius_m, Dimension::length)},
            {"clock", in_string(weight.clock_rad, Dimension::angle)},
            {"diameter", in_string(weight.diameter_m, Dimension::length)}};
}

/// The one thing in two places.
bool same_thing(const Counterweight& a, const Counterweight& b) {
    return a.mass_kg == b.mass_kg && a.diameter_m == b.diameter_m;
}

void write_counterweight(LoadText& load, const std::string& index, const Counterweight& before,
                         const Counterweight& after) {
    const auto path = [&](const char* key) { return KeyPath{"counterweight", index, key}; };
    if (before.at_m != after.at_m) load.set(path("at"), in_string(after.at_m, Dimension::length));
    if (before.radius_m != after.radius_m)
        load.set(path("radius"), in_string(after.radius_m, Dimension::length));
    if (before.clock_rad != after.clock_rad)
        load.set(path("clock"), in_string(after.clock_rad, Dimension::angle));
}

/// Where a folder is behind all links: from "a/../b" the system goes up from where the link `a` leads.
fs::path real_folder(const fs::path& folder) {
    return fs::weakly_canonical(fs::current_path() / folder);
}

/// Those that are still there keep their sections; the rest are taken out and added.
void write_counterweights(LoadText& load, const std::vector<Counterweight>& before,
                          const std::vector<Counterweight>& after) {
    std::size_t kept = 0;
    for (const Counterweight& weight : before) {
        const std::string index = std::to_string(kept + 1);
        // Order counts: what follows may not stand before what was kept already.
        if (kept < after.size() && same_thing(weight, after[kept])) {
            write_counterweight(load, index, weight, after[kept]);
            ++kept;
        } else {
            load.take_out("counterweight", kept + 1);
        }
    }
    for (std::size_t i = kept; i < after.size(); ++i) {
        load.append("counterweight", counterweight_keys(after[i]), "fork");
    }
}

std::string list_text(const std::vector<std::size_t>& indices) {
    std::vector<std::size_t> numbers;
    for (const std::size_t index : indices) numbers.push_back(index + 1);
    return fmt::format("[{}]", fmt::join(numbers, ", "));
}

std::vector<std::pair<std::string, std::string>> roll_test_keys(const RollTest& test) {
    std::vector<std::pair<std::string, std::string>> keys;
    keys.emplace_back("down",
                      test.down_rad ? in_string(*test.down_rad, Dimension::angle) : toml_string("none"));
    for (const auto& [word, on] : rolls_on_words()) {
        if (on == test.on) keys.emplace_back("on", toml_string(word));
    }
    if (test.hung) {
        keys.emplace_back("weight", in_string(test.hung->mass_kg, Dimension::mass));
        keys.emplace_back("radius", in_string(test.hung->radius_m, Dimension::length));
        keys.emplace_back("clock", in_string(test.hung->clock_rad, Dimension::angle));
    }
    keys.emplace_back("counterweights", list_text(test.counterweights));
    keys.emplace_back("read", in_string(test.read_rad, Dimension::angle));
    if (!test.as_rolled.empty()) {
        std::vector<std::string> marks;
        for (const std::string& mark : test.as_rolled) marks.push_back(toml_string(mark));
        keys.emplace_back("as_rolled", fmt::format("[{}]", fmt::join(marks, ", ")));
    }
    return keys;
}

/// Tests of what has been moved are taken out, the others keep to the counterweights that were on; new ones
/// are added.
void write_roll_tests(LoadText& load, const Assembly& before, const Assembly& after) {
    const Arrangement old_places = arrangement_of(before), new_places = arrangement_of(after);
    for (std::size_t t = before.roll_tests.size(); t-- > 0;) {
        const RollTest& test = before.roll_tests[t];
        if (!test.counts || !undisturbed(test, old_places, new_places)) {
            load.take_out("roll_test", t + 1);
        } else if (before.counterweights.size() != after.counterweights.size()) {
            load.set({"roll_test", std::to_string(t + 1), "counterweights"}, list_text(test.counterweights));
        }
    }
    for (std::size_t t = before.roll_tests.size(); t < after.roll_tests.size(); ++t)
        load.append("roll_test", roll_test_keys(after.roll_tests[t]), "counterweight");
}

}  // namespace

std::string exact_quantity(double si, Dimension dimension) {
    std::array<std::string_view, 2> names;
    switch (dimension) {
        case Dimension::length:
            names = {"mm", "m"};
            break;
        case Dimension::mass:
            names = {std::abs(si) < 1 ? "g" : "kg", "kg"};
            break;
        case Dimension::angle:
            names = {"deg", "rad"};
            break;
        default:
            throw std::invalid_argument("exact_quantity: a length, a mass or an angle is wanted");
    }
    if (!std::isfinite(si)) throw std::invalid_argument("exact_quantity: the value is not finite");
    if (si == 0) si = 0;  // no "-0 mm"
    for (const std::string_view name : names) {
        const double per_unit = find_unit(name, dimension)->factor;
        for (int digits = 1; digits <= 17; ++digits) {
            std::string text = fmt::format("{:.{}g}", si / per_unit, digits);
            if (text.find('e') != std::string::npos) continue;
            text += fmt::format(" {}", name);
            if (parse_quantity(text, dimension) == si) return text;
        }
    }
    return fmt::format("{:.17g} {}", si, names[1]);
}

std::string edited_load(const std::string& text, const Assembly& before, const Assembly& after) {
    LoadText load(text, before.file);
    for (std::size_t i = 0; i < after.items.size(); ++i) {
        write_seat(load, std::to_string(i + 1), before.items[i].seat, after.items[i].seat);
    }
    for (std::size_t f = 0; f < after.forks.size(); ++f) {
        write_fork(load, fork_section(before.forks, f), before.forks[f], after.forks[f]);
    }
    write_roll_tests(load, before, after);
    write_counterweights(load, before.counterweights, after.counterweights);
    return load.text();
}

std::string moved_load(const std::string& text, const std::string& file, const fs::path& from,
                       const fs::path& to) {
    const fs::path old_folder = real_folder(from), new_folder = real_folder(to);
    if (old_folder == new_folder) return text;
    LoadText load(text, file);
    const auto move = [&](const KeyPath& path) {
        const auto written = load.find(path);
        if (!written) return;
        const TomlNode value = parse_toml("x = " + *written, file).entries.front().value;
        if (value.kind != TomlNode::Kind::text) return;
        const fs::path old = value.text;
        if (old.empty() || old.is_absolute()) return;
        // A link that the name itself is stays one.
        const fs::path there = real_folder((old_folder / old).parent_path()) / old.filename();
        const fs::path moved = there.lexically_relative(new_folder);
        const fs::path& name = moved.empty() ? there : moved;
        if (name != old) load.set(path, toml_string(name.string()));
    };
    for (const PathKey& key : path_keys) {
        const KeyPath list = parse_key_path(key.list);
        for (std::size_t i = 1; i <= load.count(list); ++i) {
            KeyPath path = list;
            path.push_back(std::to_string(i));
            path.emplace_back(key.key);
            move(path);
            const std::size_t names = load.count(path);
            path.emplace_back();
            for (std::size_t n = 1; n <= names; ++n) {
                path.back() = std::to_string(n);
                move(path);
            }
        }
    }
    return load.text();
}

}  // namespace evenspit
