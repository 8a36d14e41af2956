// SPDX-License-Identifier: MIT
#include "scan/beside.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include <fmt/format.h>

#include "scan/beside_fit.h"
#include "scan/neighbours.h"
#include "scan/points.h"
#include "scan/shape_search.h"
#include "scan/stoppable.h"
#include "units/error.h"
#include "units/listed.h"

namespace evenspit::scan {

namespace {

constexpr double patches_in_scene = 45;  // on which the surface is surveyed
constexpr double cells_in_scene = 130;   // across, when points are thinned for the search
constexpr double least_share = 0.008;    // of the thinned points: less is no shape
constexpr std::size_t fewest_points = 60;
constexpr double near_told = 0.1;      // share by which a scan's own unit may be off
constexpr double worst_sigma = 0.05;   // share; a worse scale is none
constexpr double noises_cut_away = 4;  // round the thing
constexpr double spacings_cut_away = 2;

[[noreturn]] void refuse(const BesideQuestion& question, std::string found, std::string mend) {
    Complaint complaint;
    complaint.spot.file = question.file;
    complaint.key = "beside";
    complaint.found = std::move(found);
    complaint.expected = words_of(question.thing) + " that stands apart on the board";
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

OnFlatBoard on_flat(const PointSet& all, const Board& board, double cut, const StopControl& control) {
    OnFlatBoard scene;
    scene.cut = cut;
    EveryNthCheck now_and_then(control, points_a_look);
    for (const Vec3& p : all.positions) {
        now_and_then.step();
        const Vec3 flat = board.on_flat(p);
        (flat.z() > cut ? scene.standing : scene.ground).push_back(flat);
    }
    return scene;
}

// Thinned, each with the normal of the points round it; those without a plane are left out.
PointSet with_normals(const std::vector<Vec3>& points, double cell, double reach,
                      const StopControl& control) {
    PointSet all;
    all.positions = points;
    const PointSet thin = thinned(all, cell, control);
    const NeighbourGrid grid(points, reach, control);
    std::vector<Vec3> normals(thin.size(), Vec3::Zero());
    stoppable_for(
        control, thin.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t i = first; i < last; ++i) {
                PlaneSum sum(thin.positions[i]);
                grid.for_each_within(thin.positions[i], reach,
                                     [&](std::size_t j, double) { sum.add(points[j], 1); });
                if (sum.weight() >= 6) normals[i] = sum.fit().normal;
            }
        },
        256);
    PointSet kept;
    for (std::size_t i = 0; i < thin.size(); ++i) {
        if (!(normals[i].norm() > 0.5)) continue;
        kept.positions.push_back(thin.positions[i]);
        kept.normals.push_back(normals[i]);
    }
    return kept;
}

// Adds one that was found; of two in one place the one with more points stays.
void add(std::vector<FoundBeside>& all, FoundBeside found) {
    for (FoundBeside& other : all) {
        if ((other.middle - found.middle).norm() > std::max(other.half.maxCoeff(), found.half.maxCoeff()))
            continue;
        if (found.points > other.points) other = found;
        return;
    }
    all.push_back(found);
}

std::string mend_for(BesideThing::Kind kind) {
    return fmt::format(
        "stand the {} on the board, a hand's breadth from the body, and walk all round both; or "
        "leave this out",
        name_of(kind));
}

// How large one is, as far as a unit is known.
std::string size_words(const FoundBeside& found, const BesideQuestion& question) {
    const char* const measured = found.thing.kind == BesideThing::Kind::can ? "across" : "high";
    if (question.metres_per_unit)
        return fmt::format("{:.0f} mm {}", 1e3 * found.size * *question.metres_per_unit, measured);
    return fmt::format("{:.3g} units {}", found.size, measured);
}

// The one that is meant.
FoundBeside chosen(std::vector<FoundBeside> all, const BesideQuestion& question) {
    std::vector<FoundBeside> fitting = all;
    if (question.metres_per_unit) {
        std::erase_if(fitting, [&](const FoundBeside& found) {
            return std::abs(std::log(found.size * *question.metres_per_unit / question.thing.size_m)) >
                   std::log1p(near_told);
        });
    }
    if (fitting.size() == 1) return fitting.front();
    if (fitting.empty() && all.size() == 1) return all.front();
    std::vector<std::string> sizes;
    for (const FoundBeside& found : fitting.empty() ? all : fitting)
        sizes.push_back(size_words(found, question));
    const std::string_view name = name_of(question.thing.kind);
    refuse(question,
           fmt::format("{} things that could be the {}: {}", sizes.size(), name, listed(sizes, "and")),
           fmt::format("take away all but the one {}{}", name,
                       question.metres_per_unit ? "" : ", or name the scan's unit"));
}

}  // namespace

bool FoundBeside::holds(const Vec3& flat, double reach) const {
    if (flat.z() > top + reach) return false;
    const Vec2 off = flat.head<2>() - middle - flat.z() * lean;
    if (thing.kind == BesideThing::Kind::can) return off.norm() < half.x() + reach;
    const Vec2 across(-along.y(), along.x());
    return std::abs(along.dot(off)) < half.x() + reach && std::abs(across.dot(off)) < half.y() + reach;
}

FoundBeside find_beside(const PointSet& all, const Board& board, const BesideQuestion& question,
                        const StopControl& control) {
    OnFlatBoard scene = on_flat(all, board, question.cut, control);
    PointSet standing;
    standing.positions = scene.standing;
    const double across = standing.empty() ? 0 : robust_diagonal(standing, control);
    if (!(across > 0)) refuse(question, "nothing on the board", mend_for(question.thing.kind));
    const SurfaceSurvey surface = survey(standing, across / patches_in_scene, control);
    scene.noise = std::max(surface.noise, surface.spacing / 4);
    scene.spacing = surface.spacing;
    const double cell = std::max(across / cells_in_scene, 1.5 * surface.spacing);
    const PointSet thin =
        with_normals(scene.standing, cell, std::max(2.2 * cell, 3 * surface.noise), control);
    ShapeSearch search;
    search.reach = std::max(2.5 * surface.noise, 0.4 * cell);
    search.apart = 4 * cell;
    search.fewest = std::max(fewest_points, std::size_t(least_share * double(thin.size())));
    search.round = question.thing.kind == BesideThing::Kind::can;
    const std::vector<FoundShape> shapes = find_shapes(thin, search, control);

    std::vector<FoundBeside> found;
    std::string fault;
    for (const FoundShape& shape : shapes) {
        control.check();
        BesideTrial trial = question.thing.kind == BesideThing::Kind::can
                                ? try_can(shape, scene)
                                : try_block(shape, shapes, thin.positions, scene);
        if (trial.found) add(found, *trial.found);
        if (fault.empty()) fault = trial.fault;
    }
    if (found.empty()) {
        refuse(question,
               fault.empty() ? fmt::format("no {} on the board", name_of(question.thing.kind)) : fault,
               mend_for(question.thing.kind));
    }
    FoundBeside one = chosen(std::move(found), question);
    one.thing = question.thing;
    one.reach = noises_cut_away * surface.noise + spacings_cut_away * surface.spacing;
    if (one.sigma() > worst_sigma) {
        refuse(question,
               fmt::format("a {} that gives the scale to ± {:.0f} %", name_of(one.thing.kind),
                           100 * one.sigma()),
               "take a larger one, and scan it from all sides");
    }
    return one;
}

PointSet without_beside(const PointSet& all, const Board& board, const FoundBeside& found, double cut,
                        const StopControl& control) {
    EveryNthCheck now_and_then(control, points_a_look);
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < all.size(); ++i) {
        now_and_then.step();
        const Vec3 flat = board.on_flat(all.positions[i]);
        if (flat.z() <= cut || !found.holds(flat, found.reach)) kept.push_back(i);
    }
    return selected(all, kept);
}

}  // namespace evenspit::scan
