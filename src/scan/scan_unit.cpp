// SPDX-License-Identifier: MIT
#include "scan/scan_unit.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "units/error.h"
#include "units/listed.h"
#include "units/quantity.h"

namespace evenspit::scan {

namespace {

// What may lie on a spit at home, from a quail to a suckling pig with its legs out: common practice, no
// source.
constexpr double least_length_m = 0.06;
constexpr double greatest_length_m = 2.5;
// Flesh is near 1050 kg/m3; a quarter of it may be cavity, and the volume at hand is rough.
constexpr double least_density = 300;
constexpr double greatest_density = 2500;

bool fits(const UnitQuestion& question, double metres) {
    const double length = question.length * metres;
    if (length < least_length_m || length > greatest_length_m) return false;
    if (!question.mass_kg || !(question.volume > 0)) return true;
    const double density = *question.mass_kg / (question.volume * std::pow(metres, 3));
    return density >= least_density && density <= greatest_density;
}

// Whether the unit that was named, or any if none was, makes a thing of a size for a spit.
bool size_fits_some_unit(UnitQuestion question) {
    question.mass_kg.reset();
    if (question.metres_per_unit) return fits(question, *question.metres_per_unit);
    const std::vector<ScanUnit>& units = scan_units();
    return std::any_of(units.begin(), units.end(),
                       [&](const ScanUnit& unit) { return fits(question, unit.metres); });
}

// As a person would write it: three digits, and powers of ten only far from what is at hand.
std::string plain(double value) {
    if (!(value >= 1e-4 && value < 1e6)) return fmt::format("{:.3g}", value);
    const int decimals = std::clamp(2 - int(std::floor(std::log10(value))), 0, 6);
    return fmt::format("{:.{}f}", value, decimals);
}

std::string names(const std::vector<const ScanUnit*>& units) {
    std::vector<std::string> plurals;
    plurals.reserve(units.size());
    for (const ScanUnit* unit : units) plurals.emplace_back(unit->plural);
    return listed(plurals, "or");
}

[[noreturn]] void ask(const UnitQuestion& question, std::string found,
                      const std::vector<const ScanUnit*>& fitting) {
    Complaint complaint;
    complaint.spot.file = question.file;
    complaint.key = "scan_unit";
    complaint.found = std::move(found);
    complaint.expected = "something between 6 cm and 2.5 m across";
    if (question.mass_kg) complaint.expected += ", and as dense as meat";
    const bool weight_too_great_or_small =
        fitting.empty() && question.mass_kg && size_fits_some_unit(question);
    complaint.mend = weight_too_great_or_small ? "look at the weight and its unit"
                     : fitting.empty() ? "look at the scan in a mesh tool: it may not be what it should"
                                       : "this looks like " + names(fitting) + ": name the unit";
    throw InputError(std::move(complaint));
}

}  // namespace

bool unit_fits(const UnitQuestion& question) {
    return fits(question, *question.metres_per_unit);
}

std::string likely_unit(double length_in_units) {
    std::string likely;
    double least = 0;
    for (const char* unit : {"mm", "cm", "in", "m"}) {
        const double miss = std::abs(std::log(length_in_units * parse_length_unit(unit) / usual_body_m));
        if (!likely.empty() && miss >= least) continue;
        likely = unit;
        least = miss;
    }
    return likely;
}

const std::vector<ScanUnit>& scan_units() {
    static const std::vector<ScanUnit> units{{"m", "metres", 1},
                                             {"cm", "centimetres", 0.01},
                                             {"mm", "millimetres", 0.001},
                                             {"in", "inches", 0.0254},
                                             {"ft", "feet", 0.3048}};
    return units;
}

UnitAnswer decide_unit(const UnitQuestion& question) {
    std::vector<const ScanUnit*> fitting;
    for (const ScanUnit& unit : scan_units()) {
        if (fits(question, unit.metres)) fitting.push_back(&unit);
    }
    if (question.metres_per_unit) {
        const double metres = *question.metres_per_unit;
        if (fits(question, metres)) return {metres, false};
        std::string found = fmt::format("a body {} m across", plain(question.length * metres));
        if (question.mass_kg && question.volume > 0) {
            found += fmt::format(" of about {} kg/m3",
                                 plain(*question.mass_kg / (question.volume * std::pow(metres, 3))));
        }
        ask(question, std::move(found), fitting);
    }
    const std::string as_found = fmt::format("a body {:.4g} units across, and no unit", question.length);
    if (fitting.empty()) ask(question, as_found, fitting);
    // Metres are what phones and glTF write; a foot is written by nobody that could mean a metre.
    const ScanUnit* const taken = fitting.front();
    const bool certain = fitting.size() == 1 || taken->metres == 1;
    if (!certain) ask(question, as_found, fitting);
    return {taken->metres, true};
}

}  // namespace evenspit::scan
