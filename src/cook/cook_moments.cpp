// SPDX-License-Identifier: MIT
#include "cook/cook_moments.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "analysis/clearance.h"
#include "analysis/figures.h"
#include "units/stopped.h"

namespace evenspit::cook {
namespace {

/// Between moments: fine enough for a slider, coarse enough for a short wait.
constexpr double interval_s = 300;
/// Of the whole work, about, as measured on whole birds.
constexpr double roasting_share = 0.3, doubts_share = 0.4;

/// What temperatures range over, of flesh and along the skin.
void find_range(CookMoments& cook, const RoastMoment& moment) {
    for (std::size_t i = 0; i < moment.items.size(); ++i) {
        cook.coldest_k = std::min(cook.coldest_k, moment.items[i].coldest_k);
        const body::PreparedBody& body = *cook.moments.back().load.items[i].body;
        for (const Vec3& corner : body.body.parts.front().mesh.vertices) {
            const std::optional<double> kelvin = moment.heat[i]->at(corner);
            if (!kelvin) continue;
            cook.coldest_k = std::min(cook.coldest_k, *kelvin);
            cook.hottest_k = std::max(cook.hottest_k, *kelvin);
        }
    }
}

}  // namespace

std::size_t CookMoments::near(double time_s) const {
    const auto nearest =
        std::min_element(moments.begin(), moments.end(), [time_s](const CookMoment& a, const CookMoment& b) {
            return std::abs(a.time_s - time_s) < std::abs(b.time_s - time_s);
        });
    return static_cast<std::size_t>(nearest - moments.begin());
}

CookMoments cook_moments(const Assembly& assembly,
                         const std::function<void(double share, const char* what)>& progress,
                         const std::stop_token& stop) {
    const auto tell = [&](double share, const char* what) {
        if (progress) progress(share, what);
    };
    CookOptions options;
    options.roast = coarse_roast();
    options.roast.interval_s = interval_s;
    options.roast.keep_heat = true;
    tell(0, "roasting it coarsely");
    CookMoments cook;
    cook.course = cook_course(
        assembly, options,
        [&](double done_s, double of_s) {
            const double share = of_s > 0 ? std::clamp(done_s / of_s, 0.0, 1.0) : 0;
            tell(roasting_share * share,
                 share < 1 ? "roasting it coarsely" : "working out how sure the times are");
        },
        stop);
    const SweptLoad swept = swept_load(assembly);
    std::vector<const RoastMoment*> cooking;
    for (const RoastMoment& moment : cook.course.roast.moments) {
        if (!moment.resting) cooking.push_back(&moment);
    }
    cook.coldest_k = std::numeric_limits<double>::max();
    constexpr double before = roasting_share + doubts_share;
    for (const RoastMoment* moment : cooking) {
        tell(before + (1 - before) * double(cook.moments.size()) / double(cooking.size()),
             "working out every moment");
        stop_if_asked(stop);
        Assembly load = load_at(assembly, *moment);
        Analysis analysis = analysed(
            load, [&](const Assembly&) { return swept; }, stop);
        cook.moments.push_back({moment->time_s, std::move(load), std::move(analysis), moment->heat});
        find_range(cook, *moment);
    }
    if (!cook.course.along.empty()) cook.worst = cook.near(cook.course.along[cook.course.worst].time_s);
    tell(1, "done");
    return cook;
}

}  // namespace evenspit::cook
