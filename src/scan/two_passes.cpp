// SPDX-License-Identifier: MIT
#include "scan/two_passes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "scan/neighbours.h"
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
constexpr double doubtful_rival =
    0.7;  // merit of the next best way for two scans to lie, to that of the best
constexpr double doubtful_misfit_m = 1e-3;
constexpr double same_way = 0.97;           // cosine, about 14°, of two scans' ups
constexpr double bad_fit_in_sizes = 0.012;  // of two scans to each other
constexpr double rough_spacing = 2.5;       // of the scan's own: enough to bring two together
constexpr double patches_in_diagonal = 45;  // on which the surface is surveyed

// How the second scan lies against the first.
struct Together {
    Pose second_to_first;
    RegistrationReport report;
    double misfit_m = 0;  // beside the noise
    std::vector<ScanNote> notes;
};

TriangleMesh roughly_closed(const Pass& pass, const StopControl& control) {
    int ignored = 0;
    const ClosedSheet closed = with_underside(pass.surface, pass.scale, pass, nullptr, control);
    return wrapped(closed.sheet, rough_spacing * pass.scale.spacing, ignored, pass.report.file, control);
}

// Whether what one scan saw lies over the other's board, but for what noise and sagging do.
bool clear(const Board& board, const Pose& to_scan, const Sheet& sheet, double limit) {
    double under = 0;
    for (const Vec3& p : sheet.positions) under += board.above(board.to_board * (to_scan * p)) < -limit;
    return under <= clear_of_board * double(sheet.size());
}

bool boards_agree(const Pass& first, const Pass& second, const Pose& move, double limit) {
    return first.board && second.board && clear(*first.board, move, second.surface.sheet, limit) &&
           clear(*second.board, move.inverse(), first.surface.sheet, limit);
}

Together brought_together(const Pass& first, const Pass& second, const StopControl& control) {
    const TriangleMesh first_body = roughly_closed(first, control);
    const TriangleMesh second_body = roughly_closed(second, control);
    const double scatter = std::max(first.scale.noise, second.scale.noise);
    const Registration fit =
        register_scans(first.surface.sheet, first_body, second.surface.sheet, second_body, scatter, control);
    const double size = bounds(first_body).diagonal().norm();
    const double limit = std::max(bad_fit_in_sizes * size, 2 * scatter);
    const bool backed = boards_agree(first, second, fit.move, limit);
    const bool close = backed && fit.agreement > close_agreement &&
                       fit.error < std::max(close_fit_in_sizes * size, 1.2 * scatter);
    const double enough = close ? least_overlap : good_overlap;
    const double agreeing = backed && fit.overlap >= good_overlap ? sagging_agreement : good_agreement;
    if (fit.error > limit || fit.overlap < enough || fit.agreement < agreeing) {
        refuse_scan(second.report.file,
                    fmt::format("a scan that lies {:.1f} mm off the first over {:.0f} % of itself, and "
                                "beside it over {:.0f} % of what both saw",
                                fit.error * 1e3, fit.overlap * 100, 100 * (1 - fit.agreement)),
                    fmt::format("at most {:.1f} mm, over at least {:.0f} %, and beside it over at most "
                                "{:.0f} %",
                                limit * 1e3, enough * 100, 100 * (1 - agreeing)),
                    "scan the same body twice without moving its limbs, or give one scan alone");
    }
    Together together{fit.move, {fit.error, fit.overlap, fit.agreement, fit.rival}, 0, {}};
    if (fit.rival > doubtful_rival) together.notes.emplace_back(note::FitsManyWays{});
    // Points of one surface lie nearer to each other, averaged, than they scatter.
    together.misfit_m = std::sqrt(std::max(0.0, fit.error * fit.error - scatter * scatter));
    // Where they disagree, either may be right by as much as a fit may be off.
    if (fit.agreement < good_agreement)
        together.misfit_m = std::hypot(together.misfit_m, (1 - fit.agreement) * limit);
    if (together.misfit_m > doubtful_misfit_m)
        together.notes.emplace_back(note::ScansApart{fit.error, scatter});
    return together;
}

// Two passes in the frame of the first, as one surface. The scale is that of the two together: where they do
// not quite fit, that counts as noise too.
ScannedSurface merged(const Pass& first, const Pass& second, const Pose& move, ScanScale& scale,
                      const StopControl& control) {
    PointSet both = first.separated.body;
    both.normals.clear();
    both.counts.clear();
    for (const Vec3& p : second.separated.body.positions) both.positions.push_back(move * p);
    Box3 box;
    for (const Vec3& p : both.positions) box.extend(p);
    const double diagonal = box.diagonal().norm();
    scale = ScanScale::of(diagonal, survey(both, diagonal / patches_in_diagonal, control));

    // Each point faces the way its own scan's sheet does.
    const auto faced = [](const Pass& pass, const Pose& pose, PointSet& into) {
        for (std::size_t i = 0; i < pass.surface.points.size(); ++i) {
            if (pass.surface.points.normals[i].norm() < 0.5) continue;
            into.positions.push_back(pose * pass.surface.points.positions[i]);
            into.normals.push_back(pose.linear() * pass.surface.points.normals[i]);
            into.counts.push_back(std::uint32_t(pass.surface.points.count(i)));
        }
    };
    PointSet points;
    faced(first, Pose::Identity(), points);
    faced(second, move, points);
    return make_sheet(points, scale, std::nullopt, control);
}

// Whether two scans saw a body lying the same way, so that neither shows what is under it.
bool lie_on_one_side(const Pass& first, const Pass& second, const Pose& second_to_first) {
    if (!first.board || !second.board) return false;
    const Vec3 up = first.board->to_board.linear().row(2), other = second.board->to_board.linear().row(2);
    return up.dot(second_to_first.linear() * other) > same_way;
}

// Support of a mesh by two scans, where the sparser one backs little by the measure of both together: its
// points back what is as near to them as they are to each other.
void back_by_sparser(const TriangleMesh& mesh, const Pass& first, const Pass& second, const Pose& move,
                     std::vector<double>& support, const StopControl& control) {
    const bool second_is = second.separated.surface.spacing > first.separated.surface.spacing;
    const Pass& sparser = second_is ? second : first;
    std::vector<Vec3> points = sparser.separated.body.positions;
    if (second_is) {
        for (Vec3& p : points) p = move * p;
    }
    const SurfaceSurvey& surface = sparser.separated.surface;
    const double reach = std::max(1.2 * surface.spacing, 2 * surface.noise);
    const NeighbourGrid near(points, reach, control);
    stoppable_for(control, support.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t v = begin; v < end; ++v) {
            if (support[v] < unseen_support && near.nearest(mesh.vertices[v], reach) >= 0)
                support[v] = unseen_support;
        }
    });
}

}  // namespace

Skin skin_of_two(const Pass& first, const Pass& second, const ScanSettings& settings,
                 const ScanProgress& progress) {
    const StopControl& control = progress.control();
    progress.begin("bringing the two scans together");
    Together together = brought_together(first, second, control);
    progress.begin("merging");
    Skin skin;
    skin.registration = together.report;
    skin.misfit_m = together.misfit_m;
    skin.notes = std::move(together.notes);
    const Pose& move = together.second_to_first;
    const ScannedSurface surface = merged(first, second, move, skin.scale, control);
    skin.one_side_only = lie_on_one_side(first, second, move);
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
    back_by_sparser(skin.mesh, first, second, move, skin.support, control);
    return skin;
}

}  // namespace evenspit::scan
