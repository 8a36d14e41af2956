// SPDX-License-Identifier: MIT
#include "scan/hollow.h"

#include <algorithm>
#include <cmath>

namespace evenspit::scan {

namespace {

// Where what was seen says neither, and over how much of it that turns. From even seeds of rib roasts, fish
// and others of known truth (tests/scan/scan_table): ribs are 0.34 to 0.47 as high as wide, hidden over 0.15
// to 0.31 of their height, their low flanks' normals -0.25 to 0.02. Fish, as low, are hidden over 0.32 to
// 0.44; other low roasts curve under by -0.28 to -0.31.
constexpr double low_body = 0.475, low_turns = 0.015;
constexpr double little_curved = -0.27, curve_turns = 0.012;
constexpr double much_hidden = 0.317, hidden_turns = 0.006;
// A round body misses ribs by 1 to 2 mm, spread birds by 7 to 13. The same.
constexpr double far_off_m = 0.0045, far_off_turns_m = 0.0006;
// However hollow it looks, it may be solid.
constexpr double most_odds = 0.9;
// Of an arch as ribs have one, a quarter of their height, that much is taken; all but a little where the
// board was seen under the middle in so many directions. The same ribs: 10 and 19 of 100 of the filled
// volume.
constexpr double arch_of_ribs = 0.25, share_unseen = 0.5, share_seen = 0.95, seen_in = 0.1;
// Volume of such an arch, and what it leaves unknown, to the filled one. The same.
constexpr double arch_volume = 0.2, sigma_unseen = 0.055, sigma_seen = 0.075;
// Of any body that says nothing of it.
constexpr double any_sigma = 0.01;
constexpr double worth_asking = 0.3;  // of the odds

double turning(double past, double over) {
    return 1 / (1 + std::exp(-past / over));
}

}  // namespace

Hollow hollow_beneath(const Resting& resting, double guess_error_m, RoastKind told) {
    if (told == RoastKind::roast || told == RoastKind::bird) return {};
    const double likely = turning(low_body - resting.height_to_width, low_turns) *
                          turning(resting.low_flanks - little_curved, curve_turns) *
                          turning(much_hidden - resting.hidden_share, hidden_turns) *
                          turning(far_off_m - guess_error_m, far_off_turns_m);
    Hollow hollow;
    hollow.odds = told == RoastKind::ribs ? 1 : most_odds * likely;
    const double seen = std::min(1.0, resting.air_in_middle / seen_in);
    const double share = share_unseen + seen * (share_seen - share_unseen);
    const double left = sigma_unseen + seen * (sigma_seen - sigma_unseen);
    hollow.rise = hollow.odds * share * arch_of_ribs;
    // Of two answers: how far they lie apart, and what the one leaves unknown.
    const double volume = share * arch_volume;
    hollow.sigma = std::sqrt(any_sigma * any_sigma + hollow.odds * (1 - hollow.odds) * volume * volume +
                             hollow.odds * left * left);
    hollow.ask = told == RoastKind::automatic && hollow.odds > worth_asking;
    return hollow;
}

}  // namespace evenspit::scan
