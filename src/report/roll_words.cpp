// SPDX-License-Identifier: MIT
#include "report/roll_words.h"

#include <cmath>

#include <fmt/format.h>

namespace evenspit {

std::string rarity_text(double probability) {
    if (probability < 1e-6) return "less than 1 of a million loads";
    return fmt::format("1 of {:.0f} loads", std::round(1 / probability));
}

std::string roll_finding_text(const Finding& finding) {
    const auto& [test, folded] = finding.get<RollFacts>();
    if (!folded) {
        return fmt::format(
            "Roll test {} fits no way in which this load may be set up, so it is ignored. Look at its "
            "weight, "
            "radius and clocks again, or roll the load again.",
            test + 1);
    }
    if (finding.level == Level::ready)
        return fmt::format("The load is judged as roll test {} found it, not as written.", test + 1);
    return fmt::format(
        "Roll test {} contradicts the load file: were the file right, {} would roll so. Look for what is "
        "really different, like stuffing left inside, the rod in another place or a place round the rod "
        "read from the wrong end, and roll the load again.",
        test + 1, rarity_text(*finding.value));
}

}  // namespace evenspit
