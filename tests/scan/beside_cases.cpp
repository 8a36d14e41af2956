// SPDX-License-Identifier: MIT
#include "beside_cases.h"

#include <array>
#include <cmath>
#include <random>

#include "other_bodies.h"

namespace evenspit::test {

BesideCase beside_case(scan::BesideThing::Kind kind, std::uint64_t seed, bool two_scans) {
    std::mt19937_64 dice(17000 + seed);
    std::uniform_real_distribution<double> uniform;
    const auto between = [&](double low, double high) { return low + (high - low) * uniform(dice); };
    ScanOptions options = random_scan(seed);
    options.surroundings.clutter = 0;
    options.surroundings.board_size_m = {1.0, 0.9};
    // A part of the walk is left out, so that what stands there is seen from some sides only.
    const double left_out = uniform(dice) < 0.5 ? 0 : between(40, 150), from = between(0, 360);
    for (ScanRound& round : options.rounds) {
        round.from_deg = from;
        round.span_deg = 360 - left_out;
    }
    ThingBeside thing;
    thing.azimuth_deg = between(0, 360);
    thing.gap_m = between(0.01, 0.09);
    const bool is_can = kind == scan::BesideThing::Kind::can;
    if (is_can) {
        thing.kind = ThingBeside::Kind::can;
        const double across = between(0.055, 0.105);
        thing.size_m = {across, across, between(0.07, 0.14)};
        thing.rim_m = uniform(dice) < 0.5 ? 0 : 0.0015;
    } else {
        thing.kind = ThingBeside::Kind::block;
        thing.size_m = {between(0.05, 0.10), between(0.05, 0.10), between(0.06, 0.13)};
        thing.turn_deg = between(0, 90);
    }
    options.surroundings.beside = {thing};
    // A unit, and how far off the scan's own measure of it is.
    constexpr std::array units{1.0, 0.01, 0.001, 0.0254};
    options.metres_per_unit = units[dice() % units.size()] * std::exp(between(-0.04, 0.04));

    BesideCase made;
    made.metres_per_unit = options.metres_per_unit;
    const TrueBody body = (seed / 2) % 2 == 0 ? other_bird(seed) : other_roast(seed / 2 + seed % 2);
    made.scan = scanned(body, options, two_scans);
    for (scan::RawScan& raw : made.scan.scans) raw.content.metres_per_unit.reset();
    const double size_m = is_can ? thing.size_m.x() : thing.size_m.z();
    made.scan.settings.beside = scan::BesideThing{kind, 1e-3 * std::round(1e3 * size_m)};
    return made;
}

}  // namespace evenspit::test
