// SPDX-License-Identifier: MIT
#include "scan/scan.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "body/solid_body.h"
#include "geometry/bvh.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "geometry/usual_scan_scale.h"
#include "scan/advice.h"
#include "scan/bird_cavity.h"
#include "scan/one_pass.h"
#include "scan/refuse_scan.h"
#include "scan/scan_progress.h"
#include "scan/several_passes.h"
#include "scan/skin.h"
#include "scan/stoppable.h"
#include "scan/support.h"
#include "scan/trust.h"
#include "scan/weighing.h"

namespace evenspit::scan {

namespace {

// Share of the surface; beyond, the body is more guessed than seen. What lies on a board is at least known to
// end there.
constexpr double greatest_unseen_on_board = 0.65, greatest_unseen = 0.35;
// How far ground is off, in one piece: where points back it, where a fitted bird closed it, where another
// guess did. And all seen ground together, by drift and averaging, and by a part of the noise. From scans
// simulated with known truth (tests/scan/scan_table).
constexpr double seen_ground_m = 0.12e-3, ground_of_bird_m = 1e-3, ground_of_guess_m = 2e-3;
constexpr double seen_everywhere_m = 1e-4, seen_everywhere_of_noise = 0.075;
constexpr double doubtful_centre_m = 1e-3;   // σ; twice that is the 2 mm that one would like
constexpr double doubtful_confidence = 0.5;  // that the ends and the up are the right way round

const BirdOverlay* bird_of(const Skin& skin) {
    return skin.looked.bird ? &*skin.looked.bird : nullptr;
}

void refuse_number(const std::vector<RawScan>& scans) {
    if (!scans.empty() && scans.size() <= most_scans) return;
    refuse_scan(scans.empty() ? "" : scans.back().file.string(), fmt::format("{} scans", scans.size()),
                fmt::format("one to {}, that see the body lying on different sides", most_scans), "");
}

Skin skin_from(const std::vector<RawScan>& scans, const std::vector<Pass>& passes,
               const ScanSettings& settings, const ScanProgress& progress) {
    if (passes.size() > 1) return skin_of_several(passes, settings, progress);
    if (const std::optional<SolidReport> report = without_rim(scans[0], passes[0])) {
        if (std::optional<Skin> anew = closed_anew(scans[0], passes[0], settings, progress))
            return std::move(*anew);
        if (came_closed(scans[0], *report, progress.control()))
            return as_it_came(scans[0], passes[0], settings, progress);
    }
    if (std::optional<Skin> filled = with_holes_filled(scans[0], passes[0], settings, progress))
        return std::move(*filled);
    return skin_of(passes[0], settings, progress);
}

// The turn whose rows are the wanted axes; what was not wanted follows `found`.
Mat3 wanted_turn(const Mat3& found, const std::optional<Vec3>& axis, const std::optional<Vec3>& up) {
    Vec3 x = axis ? axis->normalized() : Vec3(found.row(0));
    Vec3 z = up ? up->normalized() : Vec3(found.row(2));
    // The one that was given stays; with both, the axis does.
    if (axis || !up) {
        z = (z - z.dot(x) * x).normalized();
    } else {
        x = (x - x.dot(z) * z).normalized();
    }
    Mat3 turn;
    turn.row(0) = x;
    turn.row(1) = z.cross(x);
    turn.row(2) = z;
    return turn;
}

// Frame of the skin → item frame.
Pose item_pose(const Skin& skin, const ScanSettings& settings) {
    Pose pose = skin.looked.bird ? skin.looked.bird->to_item : body::principal_pose(skin.mesh);
    if (!settings.axis && !settings.up) return pose;
    const Vec3 origin = pose.inverse() * Vec3::Zero();
    pose.linear() = wanted_turn(pose.linear(), settings.axis, settings.up);
    pose.translation() = -(pose.linear() * origin);
    return pose;
}

// What the passes and the skin made of them tell of themselves.
ScanReport report_of(const std::vector<Pass>& passes, const Skin& skin, const ScanSettings& settings) {
    ScanReport report;
    for (const Pass& pass : passes) {
        report.passes.push_back(pass.report);
        if (const auto& beside = pass.beside) {
            report.passes.back().beside = {beside->thing, beside->metres_per_unit(), beside->sigma(),
                                           beside->points};
        }
        report.remarks.insert(report.remarks.end(), pass.notes.begin(), pass.notes.end());
    }
    report.passes[0].underside = skin.underside.name;
    report.passes[0].underside_area_m2 = skin.underside.area_m2;
    report.passes[0].guess_error_m = skin.underside.guess_error_m;
    report.metres_per_unit = passes.front().metres_per_unit;
    report.remarks.insert(report.remarks.end(), skin.notes.begin(), skin.notes.end());
    report.registration = skin.registration;
    report.pieces_dropped = skin.pieces_dropped;
    report.self_intersections = skin.self_intersections;
    report.offset_before_m = skin.offset_before_m;
    report.offset_after_m = skin.offset_after_m;

    const BirdOverlay* const bird = bird_of(skin);
    report.bird = bird != nullptr;
    report.bird_error_m = skin.looked.error_m;
    report.kind = bird ? std::string(bird->species->name) : "other";
    report.axis_confidence = bird ? bird->confidence : 0;
    report.axes_from = bird ? AxesFrom::bird : AxesFrom::principal_axes;
    if (settings.axis || settings.up) {
        report.axis_confidence = 1;
        report.axes_from = AxesFrom::user;
    }
    if (!bird && settings.keep_frame) report.axes_from = AxesFrom::file;
    return report;
}

// Measures the body. \param solid in the item frame \param seen its points, there
void measure(const SolidQueries& solid, const std::vector<Vec3>& seen, const ScanSettings& settings,
             ScanReport& report, const StopControl& control) {
    report.volume_m3 = volume_moments(solid.mesh()).amount;
    report.volume_by_chords_m3 = volume_by_chords(solid, control);
    report.size_m = bounds(solid.mesh()).sizes();
    report.triangles = solid.mesh().triangles.size();
    const Distances distances = distances_from(solid, seen, control);
    report.distance_mean_m = distances.mean;
    report.distance_p95_m = distances.p95;
    report.distance_max_m = distances.greatest;
    report.mass_kg = settings.mass_kg;
    if (settings.mass_kg) report.density_kg_m3 = *settings.mass_kg / report.volume_m3;
}

void refuse_guesswork(const std::vector<Pass>& passes, const Skin& skin, double unseen_share) {
    const bool one = passes.size() == 1;
    const bool on_board = (passes[0].board || skin.closed_by_app) && one;
    const double most_unseen = on_board ? greatest_unseen_on_board : greatest_unseen;
    // What came closed was closed by someone who could tell.
    if (unseen_share <= most_unseen || skin.came_closed) return;
    refuse_scan(passes[0].report.file,
                fmt::format("{} that saw {:.1f} % of the body",
                            one ? std::string("a scan") : fmt::format("{} scans", passes.size()),
                            100 * (1 - unseen_share)),
                fmt::format("at least {:.0f} %", 100 * (1 - most_unseen)),
                on_board
                    ? "hold the phone lower, near the board, all the way round; or turn it over, scan again, "
                      "and give that scan too"
                    : "walk all round it; or turn it over, scan again, and give that scan too");
}

// Per triangle.
std::vector<float> unseen_shares(const Skin& skin) {
    std::vector<float> shares;
    shares.reserve(skin.mesh.triangles.size());
    for (const Triangle& t : skin.mesh.triangles) {
        const auto corners = std::count_if(t.begin(), t.end(), [&](std::int32_t v) {
            return skin.support[std::size_t(v)] < unseen_support;
        });
        shares.push_back(float(corners) / 3);
    }
    return shares;
}

// How far volume and centre may be off, by what was not seen and by what could not be told.
Doubt doubt_of(const Skin& skin, const Pass& first) {
    GroundError off;
    off.seen_everywhere_m =
        std::hypot(seen_everywhere_m, seen_everywhere_of_noise * skin.scale.noise, skin.apart_m);
    off.seen_m = std::hypot(seen_ground_m, skin.apart_m);
    off.closed_m = skin.looked.bird ? ground_of_bird_m : ground_of_guess_m;
    off.bounded = skin.one_side_only && first.board;  // what was not seen lies between body and board
    off.guessed = skin.underside.ground;
    Doubt doubt = doubt_of(skin.mesh, skin.support, off);
    for (const OpenQuestion& question : skin.questions) {
        doubt.volume_m3 = std::hypot(doubt.volume_m3, question.volume_m3);
        doubt.centre_covariance_m2 += question.centre_m * question.centre_m.transpose();
    }
    return doubt;
}

// Lets the weight tell of what was not seen, where it tells more than the scan does.
void weigh_skin(Skin& skin, const std::vector<Pass>& passes, const ScanSettings& settings,
                const std::optional<double>& scale_sigma, const StopControl& control) {
    if (!settings.mass_kg || skin.underside.ground.at.empty()) return;
    std::optional<Board> board;
    if (passes.size() == 1 && passes[0].board && passes[0].board->carries) board = passes[0].board;
    const WeighedVolume weighed = weighed_volume(*settings.mass_kg, skin.looked, skin.underside.guess_error_m,
                                                 settings.kind, scale_sigma.value_or(usual_scan_scale));
    const auto volume = [&] { return volume_moments(skin.mesh).amount; };
    const auto sigma = [&] { return doubt_of(skin, passes[0]).volume_m3; };
    const double volume_before = volume(), sigma_before = sigma();
    if (!weigh(skin, sigma_before, weighed, board, control)) return;
    skin.notes.emplace_back(
        note::WeightTells{volume() / volume_before - 1, sigma_before / volume_before, sigma() / volume()});
}

// \param mesh in the item frame
void judge(const TriangleMesh& mesh, const UnseenGround& unseen, const Skin& skin, const Pass& first,
           ScanReport& report) {
    report.area_m2 = unseen.area_m2;
    report.unseen_share = unseen.share;
    report.holes = unseen.holes;
    report.centre_m = volume_moments(mesh).centre;
    const Doubt doubt = doubt_of(skin, first);
    // Lengths that are off together are off three times as much as a volume.
    report.volume_sigma_m3 =
        std::hypot(doubt.volume_m3, 3 * report.scale_sigma.value_or(0) * report.volume_m3);
    if (!skin.came_closed) report.centre_covariance_m2 = doubt.centre_covariance_m2;
}

// Brings the centre and its spread to the frame of the body that is handed out.
//
// \param middle_m of the body's box, item frame
void place_centre(const ScanFile& scan, const Skin& skin, const Pose& to_item, const ScanSettings& settings,
                  Vec3 middle_m, ScanReport& report) {
    if (settings.keep_frame) middle_m = to_item.inverse() * middle_m;
    if (settings.keep_frame) report.centre_m = Vec3(to_item.inverse() * report.centre_m);
    auto& covariance = report.centre_covariance_m2;
    if (skin.came_closed) {
        // It knows no more of itself than it says.
        covariance = scan.centre_covariance;
        if (covariance) *covariance *= report.metres_per_unit * report.metres_per_unit;
        if (!report.scale_sigma) report.scale_sigma = scan.scale_sigma;
    }
    if (covariance && !settings.keep_frame) *covariance = turned(*covariance, to_item);
    if (!covariance) return;
    const Vec3 from_middle = report.centre_m - middle_m;
    report.centre_sigma_m =
        std::hypot(std::sqrt(covariance->trace()), report.scale_sigma.value_or(0) * from_middle.norm());
}

// What may be no bird may have no hollow: the flesh's centre is off by half of what that moves it.
//
// \param hollow item frame, as centre
void doubt_hollow_of_bird(const Moments& hollow, const Vec3& centre, const Pose& from_item,
                          ScanReport& report) {
    auto& covariance = report.centre_covariance_m2;
    if (!covariance || !(report.volume_m3 > hollow.amount)) return;
    const Vec3 moved =
        from_item.linear() * Vec3(0.5 * (centre - hollow.centre)) * (hollow.amount / report.volume_m3);
    *covariance += moved * moved.transpose();
    report.centre_sigma_m = std::hypot(report.centre_sigma_m, moved.norm());
}

// A bird's parts and its hollow. \param solid in the item frame
void name_parts(const Skin& skin, const SolidQueries& solid, const ScanSettings& settings,
                ScannedBody& result, const StopControl& control) {
    const BirdOverlay& bird = *skin.looked.bird;
    ScanReport& report = result.report;
    result.region_table = body::bird_regions();
    result.regions.resize(skin.mesh.triangles.size());
    stoppable_for(control, result.regions.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t k = first; k < last; ++k) {
            const Triangle& t = skin.mesh.triangles[k];
            const Vec3 middle =
                (skin.mesh.corner(t, 0) + skin.mesh.corner(t, 1) + skin.mesh.corner(t, 2)) / 3;
            result.regions[k] = static_cast<std::uint8_t>(bird.region(middle));
        }
    });
    InferredCavity inferred =
        infer_cavity(bird, solid, report.volume_m3, report.volume_sigma_m3, settings.mass_kg);
    result.cavity = std::move(inferred.mesh);
    report.cavity_m3 = inferred.volume_m3;
    report.cavity_from_mass = inferred.from_mass;
    report.remarks.insert(report.remarks.end(), inferred.notes.begin(), inferred.notes.end());
    if (result.cavity && skin.looked.doubtful) {
        doubt_hollow_of_bird(volume_moments(*result.cavity), volume_moments(solid.mesh()).centre,
                             settings.keep_frame ? result.to_item.inverse() : Pose::Identity(), report);
    }
    if (report.axis_confidence < doubtful_confidence) report.remarks.emplace_back(note::EndsUncertain{});
}

void doubt_what_is_no_bird(const ScanSettings& settings, ScanReport& report) {
    if (report.density_kg_m3) {
        const std::vector<ScanNote> doubts = doubt_density(*report.density_kg_m3);
        report.remarks.insert(report.remarks.end(), doubts.begin(), doubts.end());
    }
    using Axes = note::NoBird::Axes;
    if (settings.keep_frame) {
        report.remarks.emplace_back(note::NoBird{Axes::of_file});
    } else if (!(settings.axis && settings.up)) {
        report.remarks.emplace_back(
            note::NoBird{settings.axis || settings.up ? Axes::one_was_named : Axes::principal});
    }
}

}  // namespace

ScannedBody make_body(const std::vector<RawScan>& scans, const ScanSettings& settings) {
    refuse_number(scans);
    const ScanProgress progress(settings);
    const StopControl& control = progress.control();
    std::vector<Pass> passes;
    passes.reserve(scans.size());
    for (const RawScan& raw : scans) passes.push_back(looked_over(raw, settings, progress));
    const std::optional<double> scale_sigma = agree_on_scale(passes);
    for (std::size_t k = 0; k < scans.size(); ++k) clean(passes[k], scans[k], settings, progress);
    Skin skin = skin_from(scans, passes, settings, progress);
    weigh_skin(skin, passes, settings, scale_sigma, control);

    progress.begin("checking");
    ScannedBody result;
    result.report = report_of(passes, skin, settings);
    ScanReport& report = result.report;
    report.scale_sigma = scale_sigma;
    report.closed = check_solid(skin.mesh).ok();
    result.bird = report.bird;
    result.to_item = item_pose(skin, settings);
    result.unseen = unseen_shares(skin);
    const SolidQueries solid(transformed(skin.mesh, result.to_item));
    const UnseenGround unseen = unseen_ground(solid.mesh(), skin.support, skin.scale.spacing);
    refuse_guesswork(passes, skin, unseen.share);
    std::vector<Vec3> seen = passes[0].separated.body.positions;
    for (Vec3& p : seen) p = result.to_item * p;
    measure(solid, seen, settings, report, control);
    judge(solid.mesh(), unseen, skin, passes[0], report);
    place_centre(scans[0].content, skin, result.to_item, settings, bounds(solid.mesh()).center(), report);

    if (result.bird) {
        name_parts(skin, solid, settings, result, control);
    } else {
        doubt_what_is_no_bird(settings, report);
    }
    report.advice = advice_for(solid.mesh(), skin.support, result.bird, report.passes);
    if (scans.size() == 1 && report.centre_sigma_m > doubtful_centre_m) {
        report.advice.emplace_back(
            note::CentreUncertain{report.centre_sigma_m, report.volume_sigma_m3 / report.volume_m3});
    }

    if (settings.keep_frame) {
        result.mesh = std::move(skin.mesh);
        if (result.cavity) *result.cavity = transformed(*result.cavity, result.to_item.inverse());
    } else {
        result.mesh = solid.mesh();
    }
    return result;
}

}  // namespace evenspit::scan
