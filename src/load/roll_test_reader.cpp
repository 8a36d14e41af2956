// SPDX-License-Identifier: MIT
#include "load/roll_test_reader.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "units/listed.h"
#include "units/metric.h"

namespace evenspit {
namespace {

using enum Dimension;

void read_down(TableReader& given, RollTest& test) {
    const TomlNode* const value = given.find("down");
    if (value == nullptr) {
        given.missing("down", "the clock that was at the bottom at rest, or \"none\"",
                      R"(add down = "210 deg", or down = "none" if it stayed wherever it was put)");
        return;
    }
    if (value->kind == TomlNode::Kind::text && value->text == "none") return;
    test.down_rad = given.quantity("down");
}

void read_hung(TableReader& given, RollTest& test) {
    const auto mass_kg = given.quantity("weight");
    const auto radius_m = given.quantity("radius");
    const auto clock_rad = given.quantity("clock");
    std::vector<std::string> there, missing;
    for (const char* const key : {"weight", "radius", "clock"})
        (given.has(key) ? there : missing).emplace_back(key);
    if (!there.empty() && !missing.empty()) {
        given.complain(there.front(),
                       fmt::format("{} without {}", listed(there, "and"), listed(missing, "and")),
                       "weight, radius and clock of what was hung on, or none of them",
                       fmt::format("add {}, or take out {}", listed(missing, "and"), listed(there, "and")));
    }
    if (mass_kg && radius_m && clock_rad) test.hung = HungWeight{*mass_kg, *radius_m, *clock_rad};
}

void read_counterweights(TableReader& given, std::size_t count, RollTest& test) {
    const TomlNode* const value = given.find("counterweights");
    if (value == nullptr) {
        for (std::size_t i = 0; i < count; ++i) test.counterweights.push_back(i);
        return;
    }
    const std::string expected = count == 0
                                     ? "an empty list, for the load has no counterweight"
                                     : fmt::format("a list of whole numbers from 1 to {}, each once", count);
    const std::string mend = "write counterweights = [1] if only the first one was on, [] if none was";
    if (value->kind != TomlNode::Kind::array) {
        given.complain("counterweights", value->shown(), expected, mend);
        return;
    }
    for (std::size_t i = 0; i < value->elements.size(); ++i) {
        const TomlNode& element = value->elements[i];
        const bool fits = element.kind == TomlNode::Kind::number &&
                          element.number == std::floor(element.number) && element.number >= 1 &&
                          element.number <= static_cast<double>(count);
        const auto index = fits ? static_cast<std::size_t>(element.number) - 1 : 0;
        const std::vector<std::size_t>& on = test.counterweights;
        if (!fits || std::find(on.begin(), on.end(), index) != on.end()) {
            given.complaints().add(element.spot,
                                   fmt::format("{}[{}]", given.path_of("counterweights"), i + 1),
                                   element.shown(), expected, mend);
        } else {
            test.counterweights.push_back(index);
        }
    }
    std::sort(test.counterweights.begin(), test.counterweights.end());
}

void read_marks(TableReader& given, RollTest& test) {
    const TomlNode* const value = given.find("as_rolled");
    if (value == nullptr) return;
    const bool texts = value->kind == TomlNode::Kind::array &&
                       std::all_of(value->elements.begin(), value->elements.end(),
                                   [](const TomlNode& mark) { return mark.kind == TomlNode::Kind::text; });
    if (!texts) {
        given.complain("as_rolled", value->shown(), "a list of marks, as evenspit roll -o writes it",
                       "take it out, or roll the load again");
        return;
    }
    for (const TomlNode& mark : value->elements) test.as_rolled.push_back(mark.text);
}

}  // namespace

RollTest read_roll_test(TableReader& given, const Assembly& assembly) {
    RollTest test;
    read_down(given, test);
    const auto on = given.choice("on", rolls_on_words());
    if (on) test.on = *on;
    if (const std::string why = why_it_locks(assembly.rod, on); !why.empty()) {
        const TomlNode* const said = given.find("on");
        given.complain("on", said == nullptr ? "no bushings" : said->shown(),
                       "a rod that rolls: round, or on round bushings or journals",
                       why + R"(: slip two bushings on it, roll it again and write on = "bushings")");
    }
    read_hung(given, test);
    read_counterweights(given, assembly.counterweights.size(), test);
    test.read_rad = given.quantity_or_usual("read");
    if (test.read_rad > widest_reading_rad) {
        given.complain("read", metric(test.read_rad, angle),
                       fmt::format("an angle of at most {}", metric(widest_reading_rad, angle)),
                       "it is one standard deviation: two times in three the reading is off by less");
    }
    read_marks(given, test);
    given.refuse_unknown();
    return test;
}

void void_moved_tests(Assembly& assembly, Reading& reading) {
    for (std::size_t t = 0; t < assembly.roll_tests.size(); ++t) {
        RollTest& test = assembly.roll_tests[t];
        const std::string moved = moved_since(test, assembly);
        if (moved.empty()) continue;
        test.counts = false;
        reading.remarks.push_back(
            fmt::format("Roll test {} does not count any more: {} was changed after it. Roll the load again.",
                        t + 1, moved));
    }
}

}  // namespace evenspit
