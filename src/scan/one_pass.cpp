// SPDX-License-Identifier: MIT
#include "scan/one_pass.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "scan/refuse_scan.h"
#include "scan/sampling.h"
#include "scan/scan_unit.h"
#include "units/error.h"

namespace evenspit::scan {

namespace {

constexpr std::size_t fewest_points = 500;
// Of its box, in whatever axes, a body fills between a fifth and a half.
constexpr double share_of_box = 0.4;
constexpr double least_left = 0.5;         // of a body's points, once what it rests on is cut away
constexpr double least_fit_sigma = 1e-4;   // so that no fit counts for all
constexpr double most_apart = 2;           // σ: scales further apart than this differ
constexpr double told_scale_apart = 0.02;  // share: what no scanning app should be off

// How many places there are among some of the points: single precision far from the origin leaves few.
std::size_t places_of(const std::vector<Vec3>& points) {
    constexpr std::size_t looked_at = 20000;
    std::vector<Vec3> some;
    const std::size_t stride = std::max<std::size_t>(1, points.size() / looked_at);
    for (std::size_t i = 0; i < points.size(); i += stride) some.push_back(points[i]);
    std::sort(some.begin(), some.end(), [](const Vec3& a, const Vec3& b) {
        return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end());
    });
    return std::size_t(std::unique(some.begin(), some.end()) - some.begin());
}

void refuse_second_unit(const std::string& file) {
    Complaint complaint;
    complaint.spot.file = file;
    complaint.key = "scan_unit";
    complaint.found = "a unit for a format that defines its own";
    complaint.expected = "none";
    complaint.mend = "leave it out";
    throw InputError(std::move(complaint));
}

void refuse_few_points(const std::string& file, const PointSet& points) {
    if (points.size() < fewest_points) {
        refuse_scan(file, fmt::format("{} points", points.size()),
                    fmt::format("at least {} on the body", fewest_points),
                    "scan again, nearer and from all sides");
    }
    if (const std::size_t places = places_of(points.positions); places < fewest_points) {
        refuse_scan(file,
                    fmt::format("{} points at {}", points.size(),
                                places == 1 ? std::string("one place") : fmt::format("{} places", places)),
                    fmt::format("at least {}", fewest_points),
                    "write the coordinates with more digits, or nearer to the origin");
    }
}

// Refuses a body that cannot be as large as the thing beside it makes it.
void refuse_impossible_scale(const UnitQuestion& question, const FoundBeside& beside) {
    if (unit_fits(question)) return;
    Complaint complaint;
    complaint.spot.file = question.file;
    complaint.key = "beside";
    complaint.found = fmt::format("{}, which makes the body {:.2g} m across", words_of(beside.thing),
                                  question.length * *question.metres_per_unit);
    complaint.expected = "something for a spit";
    if (question.mass_kg) complaint.expected += ", and as dense as meat";
    complaint.mend = "look at the size and its unit, and whether something else stands on the board";
    throw InputError(std::move(complaint));
}

// Takes the unit, and brings all lengths to metres.
void to_metres(Pass& pass, const RawScan& raw, const ScanSettings& settings) {
    UnitQuestion question;
    question.length = pass.separated.diagonal;
    Box3 box;
    for (const Vec3& p : pass.separated.body.positions) box.extend(p);
    question.volume = share_of_box * box.volume();
    question.metres_per_unit =
        raw.content.metres_per_unit ? raw.content.metres_per_unit : settings.metres_per_unit;
    question.mass_kg = settings.mass_kg;
    question.file = pass.report.file;
    if (pass.beside) {
        question.metres_per_unit = pass.metres_per_unit;
        refuse_impossible_scale(question, *pass.beside);
    } else {
        const UnitAnswer unit = decide_unit(question);
        pass.metres_per_unit = unit.metres_per_unit;
        if (unit.guessed)
            pass.notes.emplace_back(
                note::UnitTaken{unit.metres_per_unit, question.length * unit.metres_per_unit});
    }
    for (Vec3& p : pass.points.positions) p *= pass.metres_per_unit;
    if (pass.board) pass.board = scaled(*pass.board, pass.metres_per_unit);
    pass.separated = scaled(std::move(pass.separated), pass.metres_per_unit);
}

// What a thing beside the body makes of the scan's own unit, where that was known.
void note_scale_apart(Pass& pass, double told) {
    const double share = pass.metres_per_unit / told - 1;
    if (std::abs(share) > std::max(told_scale_apart, 3 * pass.beside->sigma()))
        pass.notes.emplace_back(note::ScaleMended{share, pass.beside->thing.kind});
}

[[noreturn]] void refuse_no_board(const std::string& file, const BesideThing& thing) {
    Complaint complaint;
    complaint.spot.file = file;
    complaint.key = "beside";
    complaint.found = "no board";
    complaint.expected = words_of(thing) + " that stands on one";
    complaint.mend = "scan again with the board in view, or leave this out";
    throw InputError(std::move(complaint));
}

// Looks for what stands between body and board, and cuts it away.
void cut_carrier(Pass& pass, const ScanSettings& settings, const StopControl& control) {
    pass.rests_on = settings.rests_on;
    pass.kind = settings.kind;
    if (!pass.board) return;
    pass.carrier = find_carrier(pass.separated.body, pass.points, *pass.board, settings.rests_on, control);
    if (!pass.carrier) {
        if (settings.rests_on == RestsOn::rack || settings.rests_on == RestsOn::stand ||
            settings.rests_on == RestsOn::tin)
            pass.notes.emplace_back(note::CarrierUnseen{settings.rests_on});
        // Where it ends on a stand that nobody saw is anyone's guess.
        if (settings.rests_on == RestsOn::stand) pass.board->carries = false;
        return;
    }
    const Carrier& carrier = *pass.carrier;
    const note::CarrierCut cut{carrier.kind, carrier.height_m};
    if (carrier.kind == RestsOn::rack) {
        // The body lies on the rack as on a board.
        pass.notes.emplace_back(cut);
        pass.board->surface[0] += carrier.rests_at_m;
        pass.board->height_sigma = carrier.rests_sigma_m;
        pass.separated = separate_body(pass.points, pass.board, control);
        return;
    }
    const std::vector<std::size_t> kept = not_of(carrier, pass.separated.body, *pass.board, control);
    if (double(kept.size()) < least_left * double(pass.separated.body.size())) {
        // What takes most of the body with it is none.
        pass.carrier.reset();
        pass.notes.emplace_back(
            note::CarrierUnseen{settings.rests_on == RestsOn::automatic ? RestsOn::tin : settings.rests_on});
        return;
    }
    pass.notes.emplace_back(cut);
    pass.separated.clutter += pass.separated.body.size() - kept.size();
    pass.separated.body = selected(pass.separated.body, kept);
    // A rim reaches out to what stands beside; a stand does not.
    if (carrier.kind == RestsOn::tin) drop_loose_pieces(pass.separated, control);
    // What of the body hangs lower than a stand's top was seen, or does not count for much.
    pass.board->surface[0] += carrier.rests_at_m;
    pass.board->height_sigma = carrier.rests_sigma_m;
}

// How far the board departs, under the body, from the plane that touches it under the middle.
double warp_under(const Board& board, const std::vector<Vec3>& body) {
    Box3 over;
    for (const Vec3& p : body) over.extend(board.to_board * p);
    double low = 0, high = 0;
    const Vec3 half = over.sizes() / 2;
    for (const double x : {-half.x(), 0.0, half.x()}) {
        for (const double y : {-half.y(), 0.0, half.y()}) {
            const auto& c = board.surface;
            const double warp = c[3] * x * x + c[4] * x * y + c[5] * y * y;
            low = std::min(low, warp);
            high = std::max(high, warp);
        }
    }
    return high - low;
}

void report_separated(const Pass& pass, ScanPassReport& report) {
    report.kept = pass.separated.body.size();
    report.on_board = pass.separated.on_board;
    report.clutter = pass.separated.clutter;
    report.clutter_pieces = pass.separated.pieces;
    report.strays = pass.separated.strays;
    report.noise_m = pass.separated.surface.noise;
    report.spacing_m = pass.separated.surface.spacing;
    report.board = pass.board.has_value();
    if (!pass.board) return;
    const Vec3 up = pass.board->to_board.linear().row(2);
    report.board_tilt_deg = std::acos(std::min(1.0, up.cwiseAbs().maxCoeff())) * 180 / std::numbers::pi;
    report.board_warp_m = warp_under(*pass.board, pass.separated.body.positions);
}

}  // namespace

Pass looked_over(const RawScan& raw, const ScanSettings& settings, const ScanProgress& progress) {
    const StopControl& control = progress.control();
    Pass pass;
    pass.report.file = raw.file.string();
    pass.report.points = raw.content.mesh.vertices.size();
    pass.report.triangles = raw.content.mesh.triangles.size();
    pass.report.not_finite = raw.content.not_finite;
    if (raw.content.metres_per_unit && settings.metres_per_unit) refuse_second_unit(pass.report.file);
    pass.points = sampled(raw.content, control);
    pass.report.sampled = pass.points.size();
    refuse_few_points(pass.report.file, pass.points);

    progress.begin("looking for the board");
    pass.board = find_board(pass.points, control);
    if (!settings.beside) return pass;
    progress.begin("looking for what stands beside the body");
    const std::optional<double> told =
        raw.content.metres_per_unit ? raw.content.metres_per_unit : settings.metres_per_unit;
    if (!pass.board) refuse_no_board(pass.report.file, *settings.beside);
    const double cut = cut_height(*pass.board);
    pass.beside =
        find_beside(pass.points, *pass.board, {*settings.beside, cut, told, pass.report.file}, control);
    pass.points = without_beside(pass.points, *pass.board, *pass.beside, cut, control);
    pass.metres_per_unit = pass.beside->metres_per_unit();
    if (told) note_scale_apart(pass, *told);
    return pass;
}

std::optional<double> agree_on_scale(std::vector<Pass>& passes) {
    double weights = 0, logs = 0, squares = 0, ruler = 0;
    for (const Pass& pass : passes) {
        if (!pass.beside) return std::nullopt;
        const double fit = std::max(pass.beside->fit_sigma, least_fit_sigma);
        weights += 1 / (fit * fit);
        logs += std::log(pass.metres_per_unit) / (fit * fit);
        squares += fit * fit;
        ruler = ruler_sigma_m / pass.beside->thing.size_m;
    }
    const double mean = logs / weights;
    double apart = 0;  // squares of what they are off, in σ
    for (const Pass& pass : passes) {
        const double fit = std::max(pass.beside->fit_sigma, least_fit_sigma);
        apart += std::pow((std::log(pass.metres_per_unit) - mean) / fit, 2);
    }
    const auto n = double(passes.size());
    if (apart > most_apart * most_apart * n) return std::hypot(std::sqrt(squares) / n, ruler);
    for (Pass& pass : passes) pass.metres_per_unit = std::exp(mean);
    return std::hypot(1 / std::sqrt(weights), ruler);
}

void clean(Pass& pass, const RawScan& raw, const ScanSettings& settings, const ScanProgress& progress) {
    const StopControl& control = progress.control();
    progress.begin("taking the body apart from its surroundings");
    pass.separated = separate_body(pass.points, pass.board, control);
    if (pass.separated.body.size() < fewest_points) {
        refuse_scan(pass.report.file,
                    fmt::format("{} points left after board, clutter and strays", pass.separated.body.size()),
                    fmt::format("at least {} on the body", fewest_points),
                    "scan again, nearer and from all sides");
    }
    to_metres(pass, raw, settings);
    cut_carrier(pass, settings, control);
    report_separated(pass, pass.report);

    progress.begin("averaging the points");
    pass.scale = ScanScale::of(pass.separated.diagonal, pass.separated.surface);
    pass.surface = make_sheet(pass.separated.body, pass.scale, pass.board, control);
}

}  // namespace evenspit::scan
