// SPDX-License-Identifier: MIT
#include "scan/several_passes.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "scan/nearest.h"
#include "scan/refuse_scan.h"
#include "scan/registration.h"
#include "scan/stoppable.h"
#include "scan/support.h"

namespace evenspit::scan {

namespace {

constexpr double good_agreement = 0.85;  // of what both could see; the right fit has 0.99
constexpr double good_overlap = 0.12;    // share of the second scan that the first must have seen too
// Where the fit is close and each board lies clear of what the other scan saw, less will do; and soft flesh
// that sags otherwise when it is turned may disagree more, which is told.
constexpr double least_overlap = 0.05, close_agreement = 0.95, sagging_agreement = 0.6;
constexpr double close_fit_in_sizes = 0.004;
constexpr double clear_of_board = 0.02;  // share of the discs that may lie under the other scan's board
// No body lies under its board: of it more than that share deeper than that, to its size, is a wrong fit.
constexpr double buried_share = 0.05, buried_in_sizes = 0.04;
constexpr double doubtful_rival =
    0.7;  // merit of the next best way for two scans to lie, to that of the best
constexpr double doubtful_misfit_m = 1e-3;
// Of two scans of one body that keeps its shape, averaged, the one lies so far off the other, in what points
// scatter. What is more makes all that was seen uncertain by a part. And so does a seam of which little is
// shared: it slips and bends by this over the square of the share. Even seeds of bodies scanned twice, of
// pairs that sag otherwise, and of those that share little.
constexpr double fits_in_scatter = 0.65, part_of_misfit = 0.2, seam_m = 1.5e-5;
// Of a body that was turned over the lowest places lie so near the other board, seldom further; what is more
// makes all uncertain by a part. From pairs that share little, odd seeds, and others.
constexpr double low_end = 0.02, usual_gap_m = 0.004, part_of_gap = 0.3;
constexpr double same_way = 0.97;           // cosine, about 14°, of two scans' ups
constexpr double bad_fit_in_sizes = 0.012;  // of two scans to each other
constexpr double rough_spacing = 2.5;       // of the scan's own: enough to bring two together
constexpr double patches_in_diagonal = 45;  // on which the surface is surveyed

// How the scans lie together.
struct Together {
    std::vector<Pose> to_first;  // frame of each → frame of the first
    RegistrationReport report;   // of several fits, the worst of each figure
    double apart_m = 0;          // as in Skin
    std::vector<ScanNote> notes;
};

// Two scans, brought together as well as they go.
struct Pair {
    Registration fit;
    double scatter = 0;                          // of the points of both
    double limit = 0, enough = 0, agreeing = 0;  // what is asked of error, overlap and agreement
    bool buried = false;                         // the one lies under the other's board
    double gap_m = 0;                            // how far the one ends over the other's board, the lesser

    [[nodiscard]] bool good() const {
        return !buried && fit.error <= limit && fit.overlap >= enough && fit.agreement >= agreeing;
    }
};

TriangleMesh roughly_closed(const Pass& pass, const StopControl& control) {
    int ignored = 0;
    const ClosedSheet closed = with_underside(pass.surface, pass.scale, pass, nullptr, control);
    return wrapped(closed.sheet, rough_spacing * pass.scale.spacing, ignored, pass.report.file, control);
}

// Share of what one scan saw that lies so far under the other's board.
double under(const Board& board, const Pose& to_scan, const Sheet& sheet, double limit) {
    double count = 0;
    for (const Vec3& p : sheet.positions) count += board.above(board.to_board * (to_scan * p)) < -limit;
    return count / double(sheet.size());
}

// Whether what one scan saw lies over the other's board, but for what noise and sagging do.
bool clear(const Board& board, const Pose& to_scan, const Sheet& sheet, double limit) {
    return under(board, to_scan, sheet, limit) <= clear_of_board;
}

// Whether one scan lies under the other's board, as no sagging does it. \param size of the body, m
bool is_buried(const Pass& first, const Pass& second, const Pose& move, double size) {
    const double limit = buried_in_sizes * size;
    return (first.board && under(*first.board, move, second.surface.sheet, limit) > buried_share) ||
           (second.board && under(*second.board, move.inverse(), first.surface.sheet, limit) > buried_share);
}

bool boards_agree(const Pass& first, const Pass& second, const Pose& move, double limit) {
    return first.board && second.board && clear(*first.board, move, second.surface.sheet, limit) &&
           clear(*second.board, move.inverse(), first.surface.sheet, limit);
}

// How far what the one scan saw ends over the other's board, the lesser of both ways; 0 where one had none. A
// body lies on its board, and turned over it shows what it lay on: so far the fit may have slipped along
// upright sides.
double gap_between(const Pass& first, const Pass& second, const Pose& move) {
    if (!first.board || !second.board || !first.board->carries || !second.board->carries) return 0;
    const auto lowest = [](const Board& board, const Pose& to_scan, const Sheet& sheet) {
        std::vector<double> heights;
        for (const Vec3& p : sheet.positions) heights.push_back(board.above(board.to_board * (to_scan * p)));
        const auto low = heights.begin() + std::ptrdiff_t(low_end * double(heights.size() - 1));
        std::nth_element(heights.begin(), low, heights.end());
        return *low;
    };
    return std::min(lowest(*first.board, move, second.surface.sheet),
                    lowest(*second.board, move.inverse(), first.surface.sheet));
}

Pair paired(const Pass& first, const TriangleMesh& first_body, const Pass& second,
            const TriangleMesh& second_body, const StopControl& control) {
    Pair pair;
    pair.scatter = std::max(first.scale.noise, second.scale.noise);
    const double size = bounds(first_body).diagonal().norm();
    pair.fit = register_scans(
        first.surface.sheet, first_body, second.surface.sheet, second_body, pair.scatter,
        [&](const Pose& move) { return !is_buried(first, second, move, size); }, control);
    pair.buried = is_buried(first, second, pair.fit.move, size);
    pair.gap_m = gap_between(first, second, pair.fit.move);
    pair.limit = std::max(bad_fit_in_sizes * size, 2 * pair.scatter);
    const bool backed = boards_agree(first, second, pair.fit.move, pair.limit);
    const bool close = backed && pair.fit.agreement > close_agreement &&
                       pair.fit.error < std::max(close_fit_in_sizes * size, 1.2 * pair.scatter);
    pair.enough = close ? least_overlap : good_overlap;
    pair.agreeing = backed && pair.fit.overlap >= good_overlap ? sagging_agreement : good_agreement;
    return pair;
}

[[noreturn]] void refuse_pair(const Pass& second, const Pair& pair, bool of_two) {
    const char* const mend = of_two
                                 ? "scan the same body twice without moving its limbs, or give one scan alone"
                                 : "leave this scan out, or scan the same body without moving its limbs";
    if (pair.buried) {
        refuse_scan(second.report.file, "a scan that fits another only where it would lie under its board",
                    "a scan of the same body, that lies on its board in both", mend);
    }
    refuse_scan(second.report.file,
                fmt::format("a scan that lies {:.1f} mm off {} over {:.0f} % of itself, and "
                            "beside it over {:.0f} % of what both saw",
                            pair.fit.error * 1e3, of_two ? "the first" : "the one that fits it best",
                            pair.fit.overlap * 100, 100 * (1 - pair.fit.agreement)),
                fmt::format("at most {:.1f} mm, over at least {:.0f} %, and beside it over at most "
                            "{:.0f} %",
                            pair.limit * 1e3, pair.enough * 100, 100 * (1 - pair.agreeing)),
                mend);
}

// Takes a pair that is good into account.
void count_in(Together& together, const Pair& pair) {
    RegistrationReport& worst = together.report;
    worst.error_m = std::max(worst.error_m, pair.fit.error);
    worst.overlap = std::min(worst.overlap, pair.fit.overlap);
    worst.agreement = std::min(worst.agreement, pair.fit.agreement);
    worst.rival = std::max(worst.rival, pair.fit.rival);
    if (pair.fit.rival > doubtful_rival) together.notes.emplace_back(note::FitsManyWays{});
    double misfit =
        std::sqrt(std::max(0.0, std::pow(pair.fit.error, 2) - std::pow(fits_in_scatter * pair.scatter, 2)));
    // Where they disagree, either may be right by as much as a fit may be off.
    if (pair.fit.agreement < good_agreement)
        misfit = std::hypot(misfit, (1 - pair.fit.agreement) * pair.limit);
    if (misfit > doubtful_misfit_m)
        together.notes.emplace_back(note::ScansApart{pair.fit.error, pair.scatter});
    together.apart_m =
        std::max(together.apart_m, std::hypot(part_of_misfit * misfit, seam_m / std::pow(pair.fit.overlap, 2),
                                              part_of_gap * std::max(0.0, pair.gap_m - usual_gap_m)));
}

// Each scan is put to the first of those already in place that it fits.
Together brought_together(const std::vector<Pass>& passes, const StopControl& control) {
    std::vector<TriangleMesh> bodies;
    bodies.reserve(passes.size());
    for (const Pass& pass : passes) bodies.push_back(roughly_closed(pass, control));
    Together together;
    together.to_first.assign(passes.size(), Pose::Identity());
    together.report = {0, 1, 1, 0};
    std::vector<std::size_t> placed{0}, waiting;
    for (std::size_t k = 1; k < passes.size(); ++k) waiting.push_back(k);
    // Pairs are tried once: where a scan fits none of those in place, it waits for the next.
    std::map<std::size_t, Pair> nearest;
    std::size_t fresh = 0;  // the first of those in place that the waiting ones have not been tried on
    while (!waiting.empty() && fresh < placed.size()) {
        const std::size_t onto = placed[fresh++];
        std::vector<std::size_t> left;
        for (const std::size_t k : waiting) {
            const Pair pair = paired(passes[onto], bodies[onto], passes[k], bodies[k], control);
            const auto best = nearest.find(k);
            if (best == nearest.end() || pair.fit.agreement > best->second.fit.agreement) nearest[k] = pair;
            if (!pair.good()) {
                left.push_back(k);
                continue;
            }
            together.to_first[k] = together.to_first[onto] * pair.fit.move;
            placed.push_back(k);
            count_in(together, pair);
        }
        waiting = std::move(left);
    }
    if (!waiting.empty())
        refuse_pair(passes[waiting.front()], nearest.at(waiting.front()), passes.size() == 2);
    return together;
}

// All passes in the frame of the first, as one surface. The scale is that of all together: where they do not
// quite fit, that counts as noise too.
ScannedSurface merged(const std::vector<Pass>& passes, const std::vector<Pose>& to_first, ScanScale& scale,
                      const StopControl& control) {
    PointSet all;
    for (std::size_t k = 0; k < passes.size(); ++k) {
        for (const Vec3& p : passes[k].separated.body.positions) all.positions.push_back(to_first[k] * p);
    }
    Box3 box;
    for (const Vec3& p : all.positions) box.extend(p);
    const double diagonal = box.diagonal().norm();
    scale = ScanScale::of(diagonal, survey(all, diagonal / patches_in_diagonal, control));

    // Each point faces the way its own scan's sheet does.
    PointSet points;
    for (std::size_t k = 0; k < passes.size(); ++k) {
        const PointSet& own = passes[k].surface.points;
        for (std::size_t i = 0; i < own.size(); ++i) {
            if (own.normals[i].norm() < 0.5) continue;
            points.positions.push_back(to_first[k] * own.positions[i]);
            points.normals.push_back(to_first[k].linear() * own.normals[i]);
            points.counts.push_back(std::uint32_t(own.count(i)));
        }
    }
    return make_sheet(points, scale, std::nullopt, control);
}

// Whether all scans saw a body lying the same way, so that none shows what is under it.
bool lie_on_one_side(const std::vector<Pass>& passes, const std::vector<Pose>& to_first) {
    if (!passes[0].board) return false;
    const Vec3 up = passes[0].board->to_board.linear().row(2);
    for (std::size_t k = 1; k < passes.size(); ++k) {
        if (!passes[k].board) return false;
        const Vec3 other = passes[k].board->to_board.linear().row(2);
        if (up.dot(to_first[k].linear() * other) <= same_way) return false;
    }
    return true;
}

// Support of a mesh by a scan that is sparser than another, so that it backs little by the measure of all
// together: its points back what is as near to them as they are to each other.
void back_by(const Pass& pass, const Pose& to_first, const TriangleMesh& mesh, std::vector<double>& support,
             const StopControl& control) {
    std::vector<Vec3> points = pass.separated.body.positions;
    for (Vec3& p : points) p = to_first * p;
    const SurfaceSurvey& surface = pass.separated.surface;
    const double reach = std::max(1.2 * surface.spacing, 2 * surface.noise);
    const NearestPoints near(std::move(points), control);
    stoppable_for(control, support.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t v = begin; v < end; ++v) {
            if (support[v] < unseen_support && near.within(mesh.vertices[v], reach) >= 0)
                support[v] = unseen_support;
        }
    });
}

}  // namespace

Skin skin_of_several(const std::vector<Pass>& passes, const ScanSettings& settings,
                     const ScanProgress& progress) {
    const StopControl& control = progress.control();
    progress.begin("bringing the scans together");
    Together together = brought_together(passes, control);
    progress.begin("merging");
    Skin skin;
    skin.registration = together.report;
    skin.apart_m = together.apart_m;
    skin.notes = std::move(together.notes);
    const Pass& first = passes[0];
    const ScannedSurface surface = merged(passes, together.to_first, skin.scale, control);
    skin.one_side_only = lie_on_one_side(passes, together.to_first);
    if (skin.one_side_only) {
        skin.notes.emplace_back(note::SameSideTwice{});
        skin.looked = look_for_bird(surface.sheet, first.board, settings, progress);
        const BirdOverlay* const bird = skin.looked.bird ? &*skin.looked.bird : nullptr;
        ClosedSheet closed = with_underside(surface, skin.scale, first, bird, control);
        skin.underside = std::move(closed.underside);
        close_skin(skin, closed.sheet, surface, first.report.file, progress);
    } else {
        skin.looked = look_for_bird(surface.sheet, std::nullopt, settings, progress);
        close_skin(skin, surface.sheet, surface, first.report.file, progress);
    }
    const auto densest = std::min_element(passes.begin(), passes.end(), [](const Pass& a, const Pass& b) {
        return a.separated.surface.spacing < b.separated.surface.spacing;
    });
    for (std::size_t k = 0; k < passes.size(); ++k) {
        if (&passes[k] != &*densest)
            back_by(passes[k], together.to_first[k], skin.mesh, skin.support, control);
    }
    return skin;
}

}  // namespace evenspit::scan
