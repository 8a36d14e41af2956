// SPDX-License-Identifier: MIT
#include "scan_classes.h"

#include <cmath>
#include <cstddef>
#include <random>
#include <utility>

#include "geometry/moments.h"
#include "other_bodies.h"

namespace evenspit::test {

namespace {

// Bodies that share no formula with what the scan room guesses: birds and roasts by turns, so that even and
// odd seeds have both.
TrueBody other_body(std::uint64_t seed) {
    return (seed / 2) % 2 == 0 ? other_bird(seed) : other_roast(seed / 2 + seed % 2);
}

double drawn(std::uint64_t seed, double from, double to) {
    std::mt19937_64 dice(11000 + seed);
    return std::uniform_real_distribution<double>(from, to)(dice);
}

ScanCase at_rest_on(Rest rest, std::uint64_t seed, bool told = false) {
    struct Kind {
        double lowest_m, highest_m;
        scan::RestsOn told;
    };
    const auto kind = [rest]() -> Kind {
        switch (rest) {
            case Rest::rack:
                return {0.015, 0.045, scan::RestsOn::rack};
            case Rest::stand:
                return {0.03, 0.07, scan::RestsOn::stand};
            case Rest::plate:
                return {0.018, 0.03, scan::RestsOn::tin};
            case Rest::tin:
                return {0.025, 0.05, scan::RestsOn::tin};
            case Rest::board:
                break;
        }
        return {0, 0, scan::RestsOn::board};
    }();
    ScanOptions options = random_scan(seed);
    options.surroundings.rest = rest;
    options.surroundings.rest_height_m = drawn(seed, kind.lowest_m, kind.highest_m);
    options.surroundings.board_size_m = {0.8, 0.7};
    ScanCase made = scanned(other_body(seed), options, false);
    if (told) made.settings.rests_on = kind.told;
    return made;
}

// No camera under this height.
ScanCase from_above(std::uint64_t seed) {
    ScanOptions options = random_scan(seed);
    options.rounds[0].elevation_deg = drawn(seed, 18, 40);
    return scanned(other_body(seed), options, false);
}

// A phone's depth pictures: few pixels, whose errors neighbours share.
ScanCase noisy(std::uint64_t seed) {
    ScanOptions options = random_scan(seed);
    options.camera.width = 192;
    options.camera.height = 144;
    options.camera.noise_m = drawn(seed, 0.004, 0.009);
    options.camera.waviness_m = 0.6 * options.camera.noise_m;
    options.camera.flying_share = 0.4;
    options.points = 60000;
    return scanned(other_body(seed), options, false);
}

ScanCase closed(AppClosing how, std::uint64_t seed) {
    ScanCase made;
    made.body = other_body(seed);
    // Any axes: nothing is to lie level.
    made.body_pose.linear() =
        Eigen::AngleAxisd(drawn(seed, 0, 6), Vec3(1, 2, 3).normalized()).toRotationMatrix();
    made.scans.push_back(
        {"simulated", {transformed(closed_by_app(made.body.skin, how, seed), made.body_pose), {}, 1.0, 0}});
    made.settings.keep_frame = true;
    return made;
}

ScanCase sagging(std::uint64_t seed) {
    const TrueBody body = other_body(seed);
    const ScanOptions options = random_scan(seed);
    ScanOptions over = options;
    over.seed = seed + 500000;
    over.lies = turned_over(options.lies, 40 + double(seed % 7) * 20);
    ScanCase made = scanned(body, options, false);
    const SimulatedScan second = simulate_scan(sagged(body.skin, over.lies, drawn(seed, 0.02, 0.08)), over);
    made.scans.push_back({"simulated", {second.mesh, {}, second.metres_per_unit, 0}});
    return made;
}

ScanCase told(ScanCase made, scan::RoastKind kind) {
    made.settings.kind = kind;
    return made;
}

// Put on a scale: flesh and bone as dense as USDA SR26 lists them, and of birds a hollow as the trade knows
// it (common practice).
ScanCase weighed(ScanCase made, bool bird, std::uint64_t seed) {
    std::mt19937_64 dice(12000 + seed);
    const double density = std::normal_distribution<double>(1050, 25)(dice);
    const double hollow = bird ? std::uniform_real_distribution<double>(0.06, 0.18)(dice) : 0;
    made.settings.mass_kg = density * (1 - hollow) * volume_moments(made.body.skin).amount;
    return made;
}

// Two scans from above, which share but a rim.
ScanCase little_shared(std::uint64_t seed) {
    ScanOptions options = random_scan(seed);
    options.rounds = {{0.5, drawn(seed, 28, 45), 0, 360, 10}, {0.5, 70, 15, 360, 6}};
    return scanned(other_body(seed), options, true);
}

}  // namespace

const std::vector<ScanClass>& scan_classes() {
    static const std::vector<ScanClass> classes{
        {"birds-one", "birds, one scan",
         [](auto s) { return scanned(random_bird(s), random_scan(s), false); }},
        {"birds-two", "birds, two scans",
         [](auto s) { return scanned(random_bird(s), random_scan(s), true); }},
        {"roasts-one", "nameless roasts, one scan",
         [](auto s) { return scanned(random_roast(s), random_scan(s), false); }},
        {"other-birds", "other birds, one scan",
         [](auto s) { return scanned(other_bird(s), random_scan(s), false); }},
        {"flabby", "flabby birds", [](auto s) { return scanned(flabby_bird(s), random_scan(s), false); }},
        {"flabby-told", "flabby birds, told",
         [](auto s) { return told(scanned(flabby_bird(s), random_scan(s), false), scan::RoastKind::bird); }},
        {"other-roasts", "other roasts, one scan",
         [](auto s) { return scanned(other_roast(s), random_scan(s), false); }},
        {"other-two", "other bodies, two scans",
         [](auto s) { return scanned(other_body(s), random_scan(s), true); }},
        {"above", "no camera below 18°", from_above},
        {"noisy", "noisy depth camera", noisy},
        {"bulge", "closed by an app, a bulge", [](auto s) { return closed(AppClosing::bulge, s); }},
        {"floor", "closed by an app, a floor", [](auto s) { return closed(AppClosing::floor, s); }},
        {"cap", "closed by an app, a flat patch", [](auto s) { return closed(AppClosing::cap, s); }},
        {"rack", "on a rack", [](auto s) { return at_rest_on(Rest::rack, s); }},
        {"stand", "on a stand", [](auto s) { return at_rest_on(Rest::stand, s); }},
        {"plate", "on a plate", [](auto s) { return at_rest_on(Rest::plate, s); }},
        {"tin", "in a tin", [](auto s) { return at_rest_on(Rest::tin, s); }},
        {"board-told", "on a board, told", [](auto s) { return at_rest_on(Rest::board, s, true); }},
        {"rack-told", "on a rack, told", [](auto s) { return at_rest_on(Rest::rack, s, true); }},
        {"stand-told", "on a stand, told", [](auto s) { return at_rest_on(Rest::stand, s, true); }},
        {"plate-told", "on a plate, told", [](auto s) { return at_rest_on(Rest::plate, s, true); }},
        {"tin-told", "in a tin, told", [](auto s) { return at_rest_on(Rest::tin, s, true); }},
        {"ribs", "hollow beneath", [](auto s) { return scanned(rib_roast(s), random_scan(s), false); }},
        {"ribs-told", "hollow beneath, told",
         [](auto s) { return told(scanned(rib_roast(s), random_scan(s), false), scan::RoastKind::ribs); }},
        {"fish", "fish", [](auto s) { return scanned(fish(s), random_scan(s), false); }},
        {"cap-weighed", "a flat patch, weighed",
         [](auto s) { return weighed(closed(AppClosing::cap, s), (s / 2) % 2 == 0, s); }},
        {"flabby-weighed", "flabby birds, weighed",
         [](auto s) { return weighed(scanned(flabby_bird(s), random_scan(s), false), true, s); }},
        {"flabby-both", "flabby birds, told and weighed",
         [](auto s) {
             return weighed(told(scanned(flabby_bird(s), random_scan(s), false), scan::RoastKind::bird), true,
                            s);
         }},
        {"ribs-weighed", "hollow beneath, weighed",
         [](auto s) { return weighed(scanned(rib_roast(s), random_scan(s), false), false, s); }},
        {"sagging", "two scans, sagging otherwise", sagging},
        {"little", "two scans that share little", little_shared},
    };
    return classes;
}

ClassOutcome summary(const std::vector<Outcome>& made, int refused) {
    ClassOutcome all;
    all.tried = int(made.size()) + refused;
    all.refused = refused;
    std::vector<double> volume, bias, sigma, centre, centre_sigma;
    int volumes_within = 0, centres_within = 0;
    for (const Outcome& o : made) {
        all.birds += o.taken_for_bird;
        volume.push_back(std::abs(o.volume));
        bias.push_back(o.volume);
        sigma.push_back(o.volume_sigma);
        centre.push_back(o.centre_mm);
        centre_sigma.push_back(1e3 * o.report.centre_sigma_m);
        volumes_within += std::abs(o.volume) <= 2 * o.volume_sigma;
        all.over_told += o.over_told / double(made.size());
        centres_within += o.centre_mm <= 2e3 * o.report.centre_sigma_m;
    }
    const double count = std::max<double>(1, double(made.size()));
    all.volume_median = percentile(volume, 0.5);
    all.volume_p95 = percentile(volume, 0.95);
    all.volume_bias = percentile(bias, 0.5);
    all.volume_sigma_median = percentile(sigma, 0.5);
    all.centre_median_mm = percentile(centre, 0.5);
    all.centre_p95_mm = percentile(centre, 0.95);
    all.centre_sigma_median_mm = percentile(centre_sigma, 0.5);
    all.volume_within = volumes_within / count;
    all.centre_within = centres_within / count;
    return all;
}

}  // namespace evenspit::test
