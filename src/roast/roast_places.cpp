// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "roast/body_foods.h"
#include "roast/lethality.h"
#include "roast/place_course.h"
#include "roast/roast_course.h"
#include "units/fahrenheit.h"

namespace evenspit {
namespace {

// USDA FSIS, "Safe Minimum Internal Temperature Chart".
constexpr double poultry_k = fahrenheit_to_k(165), whole_cut_k = fahrenheit_to_k(145);
constexpr double whole_cut_rest_s = 180;

/// Whether an item waits for this place if nothing is told: what is tender is done first, the rest follows.
bool waits_by_itself(const std::vector<PlaceKind>& kinds, PlaceKind kind) {
    const bool has_parts = std::find(kinds.begin(), kinds.end(), PlaceKind::breast) != kinds.end();
    if (kind == PlaceKind::core) return !has_parts;
    return kind != PlaceKind::wing;
}

/// How much of a stretch in which a temperature goes in a line it is between two others.
double share_between(double a, double b, double low, double high) {
    if (a == b) return a >= low && a < high ? 1 : 0;
    const double from = std::clamp((low - a) / (b - a), 0.0, 1.0);
    const double to = std::clamp((high - a) / (b - a), 0.0, 1.0);
    return std::abs(to - from);
}

/// When a course first reached a temperature.
std::optional<double> reached_s(std::span<const double> times_s, std::span<const double> k, double wanted_k) {
    for (std::size_t n = 0; n < k.size(); ++n) {
        if (!(k[n] >= wanted_k)) continue;
        if (n == 0) return times_s[0];
        const double share = (wanted_k - k[n - 1]) / (k[n] - k[n - 1]);
        return times_s[n - 1] + share * (times_s[n] - times_s[n - 1]);
    }
    return std::nullopt;
}

}  // namespace

std::vector<RoastPlace> roast_places(const Assembly& assembly) {
    std::vector<RoastPlace> places;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const std::size_t first = places.size();
        const std::vector<PlaceKind> kinds = places_of(item);
        for (const PlaceKind kind : kinds) {
            const bool by_poultry = counts_as_poultry(item.body->body.meat) || kind == PlaceKind::stuffing;
            places.push_back({.item = i, .kind = kind, .name = std::string(place_name(kind))});
            places.back().safe_k = by_poultry ? poultry_k : whole_cut_k;
            places.back().safe_rest_s = by_poultry ? 0 : whole_cut_rest_s;
        }
        for (const Probe& probe : item.probes)
            places.push_back({.item = i, .kind = PlaceKind::probe, .name = probe.name});
        bool told = false;
        for (std::size_t p = first; p < places.size(); ++p) {
            if (!assembly.cook) break;
            const auto pull = assembly.cook->pull_k.find(places[p].name);
            if (pull == assembly.cook->pull_k.end()) continue;
            places[p].pull_k = pull->second;
            told = true;
        }
        for (std::size_t p = first; p < places.size() && !told; ++p) {
            if (places[p].kind != PlaceKind::probe && waits_by_itself(kinds, places[p].kind))
                places[p].pull_k = places[p].safe_k;
        }
    }
    return places;
}

PlaceCourse place_course(const RoastPlace& place, SalmonellaIn in, std::span<const double> times_s,
                         std::span<const double> coldest_k, std::span<const double> least_peaks_k) {
    PlaceCourse course;
    if (place.pull_k) course.pull_s = reached_s(times_s, coldest_k, *place.pull_k);
    if (place.safe_k) course.safe_s = reached_s(times_s, least_peaks_k, *place.safe_k);
    course.peak_k = least_peaks_k.back();
    course.peak_s = reached_s(times_s, least_peaks_k, course.peak_k).value_or(times_s.back());
    const auto at =
        static_cast<std::size_t>(std::max_element(coldest_k.begin(), coldest_k.end()) - coldest_k.begin());
    SalmonellaLogs logs(in);
    for (std::size_t n = 1; n < coldest_k.size(); ++n) {
        const double step_s = times_s[n] - times_s[n - 1];
        logs.add(coldest_k[n - 1], coldest_k[n], step_s);
        if (n > at) continue;
        course.lukewarm_s +=
            step_s * share_between(coldest_k[n - 1], coldest_k[n], fahrenheit_to_k(40), fahrenheit_to_k(140));
        course.come_up_s +=
            step_s * share_between(coldest_k[n - 1], coldest_k[n], fahrenheit_to_k(50), fahrenheit_to_k(130));
    }
    course.salmonella_logs = logs.logs();
    return course;
}

}  // namespace evenspit
