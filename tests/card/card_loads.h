// SPDX-License-Identifier: MIT
// Loads that cards are made of.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "card/card.h"
#include "card/drawing.h"
#include "cook/cook_course.h"
#include "load/load_file.h"
#include "support/temporary_folder.h"

namespace evenspit::test {

/// A load with all that its card tells.
struct CardedLoad {
    Assembly load;
    Analysis analysis;
    std::optional<cook::Schedule> schedule;

    [[nodiscard]] card::Card card(UnitSystem units = UnitSystem::metric) const {
        return card::make_card({load, analysis, schedule, units});
    }
    [[nodiscard]] card::DrawnLoad drawn(UnitSystem units = UnitSystem::metric) const {
        return card::drawn_load(load, analysis, units);
    }
};

inline CardedLoad carded(const std::filesystem::path& file) {
    const cook::CookedLoad cooked =
        cook::cooked_load(read_load(file, std::filesystem::path(EVENSPIT_SOURCE_DIR) / "models"));
    CardedLoad carded{cooked.load, analyse(cooked.load), std::nullopt};
    if (cooked.course) {
        cook::add_cook(carded.analysis, *cooked.course);
        if (const auto need = cook::schedule_need(cooked.load, *cooked.course))
            carded.schedule = cook::schedule(*need);
    }
    return carded;
}

/// Cooked once.
inline const CardedLoad& carded_sample(const std::string& name) {
    static std::map<std::string, CardedLoad> made;
    const auto found = made.find(name);
    if (found != made.end()) return found->second;
    return made.emplace(name, carded(std::filesystem::path(EVENSPIT_SOURCE_DIR) / "samples" / name))
        .first->second;
}

/// All load files of the samples, from their folder.
inline std::vector<std::string> sample_loads() {
    const std::filesystem::path samples = std::filesystem::path(EVENSPIT_SOURCE_DIR) / "samples";
    std::vector<std::string> loads;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(samples)) {
        if (entry.path().extension() == ".toml")
            loads.push_back(entry.path().lexically_relative(samples).string());
    }
    return loads;
}

/// Many quails and forks on a long rod under a title that somebody typed at length.
inline std::string crowded_load(const std::string& title, int quails = 6, int forks = 10) {
    std::string text = fmt::format(R"(title = "{}"
[rod]
section = "square"
width = "10 mm"
length = "1400 mm"
supports = ["20 mm", "1360 mm"]
usable = ["60 mm", "1330 mm"]
material = "stainless steel"
mark = "40 mm"
[motor]
model = "heavy-gearmotor"
support_friction = 0.15
[cooker]
model = "open-pit"
)",
                                   title);
    for (int n = 0; n < quails; ++n) {
        text += fmt::format(
            "[[item]]\nname = \"quail number {}\"\nshape = \"quail\"\nmass = \"{} g\"\nat = \"{} mm\"\n"
            "turn = \"{} deg\"\n",
            n + 1, 180 + 5 * n, 130 + 200 * n, 60 * n);
    }
    for (int n = 0; n < forks; ++n) {
        text += fmt::format(
            "[[fork]]\nmodel = \"two-tine-short\"\nat = \"{} mm\"\npoints = \"{}\"\nclock = \"{} deg\"\n",
            75 + 120 * n, n % 2 == 0 ? "point" : "drive", 20 * n);
    }
    text +=
        "[[counterweight]]\nat = \"1290 mm\"\nmass = \"300 g\"\nradius = \"60 mm\"\nclock = \"200 "
        "deg\"\ndiameter = \"40 mm\"\n";
    return text;
}

inline std::string long_title() {
    std::string title = "Quails for the whole of the rowing club";
    for (int n = 0; n < 12; ++n)
        title += ", and for all who came to help on the day before the harvest supper";
    return title;
}

}  // namespace evenspit::test
