// SPDX-License-Identifier: MIT
#include "scan/scan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <memory>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "body/solid_body.h"
#include "body/tissues.h"
#include "geometry/bvh.h"
#include "geometry/disjoint_sets.h"
#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "scan/bird_overlay.h"
#include "scan/board.h"
#include "scan/neighbours.h"
#include "scan/registration.h"
#include "scan/round_guess.h"
#include "scan/sampling.h"
#include "scan/scan_unit.h"
#include "scan/self_intersections.h"
#include "scan/separate.h"
#include "scan/settle.h"
#include "scan/sheet.h"
#include "scan/skin_guess.h"
#include "scan/underside.h"
#include "scan/wrap.h"
#include "units/error.h"
#include "units/parallel.h"

namespace evenspit {

namespace {

constexpr std::size_t fewest_points = 500;
constexpr double unseen_support = 0.15;  // a vertex with less is not backed by points
// Share of the surface; beyond, the body is more guessed than seen. What lies on a board is at least known to
// end there.
constexpr double greatest_unseen_on_board = 0.55, greatest_unseen = 0.35;
constexpr double good_agreement = 0.85;  // of what both could see; the right fit has 0.99
constexpr double good_overlap = 0.12;    // share of the second scan that the first must have seen too
constexpr double doubtful_rival =
    0.7;  // merit of the next best way for two scans to lie, to that of the best
constexpr double doubtful_misfit_m = 1e-3;
constexpr double same_way = 0.97;           // cosine, about 14°, of two scans' ups
constexpr double bad_fit_in_sizes = 0.012;  // of two scans to each other
// How far ground is off, in one piece: where points back it, where a fitted bird closed it, where another
// guess did. From scans simulated with known truth (tests/scan/scan_table).
constexpr double seen_ground_m = 0.12e-3, ground_of_bird_m = 1e-3, ground_of_guess_m = 2e-3;
constexpr double doubtful_centre_m = 1e-3;  // σ; twice that is the 2 mm that one would like
constexpr std::size_t distances_taken = 20000;
constexpr int chords_across = 200;

constexpr double least_hollow = 0.02,
                 greatest_hollow = 0.30;  // of the skin's volume; from memory, for drawn poultry
// How high a body bulges over the middle of a hole, to the hole's radius, as its volume over its area: 0.03
// for a face of a box, 0.05 for one of its ends, 0.16 for an ellipsoid cut open, 0.27 for a ball.
constexpr double bulge_of_holes = 0.1;
constexpr double cavity_clearance_m = 0.004;
constexpr double broadest_cavity = 1.3;       // to that of the fitted bird
constexpr double least_cavity_stretch = 0.3;  // of its length
// Fat 900, lean 1060, bone in 1150 (src/body/solid_body.cpp); a little hollow, a little misscanned: common
// practice.
constexpr double least_meat_density = 800, greatest_meat_density = 1250;

[[noreturn]] void refuse(const std::string& file, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.spot.file = file;
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

// One scan, cleaned; metres, frame of its file.
struct Pass {
    ScanPassReport report;
    PointSet points;  // all of the scan
    std::optional<Board> board;
    Separated separated;
    ScanScale scale;
    ScannedSurface surface;
};

void tell(const ScanSettings& settings, std::string_view stage) {
    if (settings.stage) settings.stage(stage);
}

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

Pass clean(const RawScan& raw, const ScanSettings& settings, ScanReport& report) {
    Pass pass;
    pass.report.file = raw.file.string();
    pass.report.points = raw.content.mesh.vertices.size();
    pass.report.triangles = raw.content.mesh.triangles.size();
    pass.report.not_finite = raw.content.not_finite;
    if (raw.content.metres_per_unit && settings.metres_per_unit) {
        Complaint complaint;
        complaint.spot.file = pass.report.file;
        complaint.key = "scan_unit";
        complaint.found = "a unit for a format that defines its own";
        complaint.expected = "none";
        complaint.mend = "leave it out";
        throw InputError(std::move(complaint));
    }
    pass.points = sampled(raw.content);
    pass.report.sampled = pass.points.size();
    if (pass.points.size() < fewest_points) {
        refuse(pass.report.file, fmt::format("{} points", pass.points.size()),
               fmt::format("at least {} on the body", fewest_points),
               "scan again, nearer and from all sides");
    }

    if (const std::size_t places = places_of(pass.points.positions); places < fewest_points) {
        refuse(pass.report.file,
               fmt::format("{} points at {}", pass.points.size(),
                           places == 1 ? std::string("one place") : fmt::format("{} places", places)),
               fmt::format("at least {}", fewest_points),
               "write the coordinates with more digits, or nearer to the origin");
    }

    tell(settings, "looking for the board");
    pass.board = find_board(pass.points);
    tell(settings, "taking the body apart from its surroundings");
    pass.separated = separate_body(pass.points, pass.board);
    if (pass.separated.body.size() < fewest_points) {
        refuse(pass.report.file,
               fmt::format("{} points left after board, clutter and strays", pass.separated.body.size()),
               fmt::format("at least {} on the body", fewest_points),
               "scan again, nearer and from all sides");
    }

    UnitQuestion question;
    question.length = pass.separated.diagonal;
    Box3 box;
    for (const Vec3& p : pass.separated.body.positions) box.extend(p);
    question.volume =
        0.4 * box.volume();  // of its box, in whatever axes, a body fills between a fifth and a half
    question.metres_per_unit =
        raw.content.metres_per_unit ? raw.content.metres_per_unit : settings.metres_per_unit;
    question.mass_kg = settings.mass_kg;
    question.file = pass.report.file;
    const UnitAnswer unit = decide_unit(question);
    report.metres_per_unit = unit.metres_per_unit;
    if (!unit.remark.empty()) report.remarks.push_back(unit.remark);
    for (Vec3& p : pass.points.positions) p *= unit.metres_per_unit;
    if (pass.board) pass.board = scaled(*pass.board, unit.metres_per_unit);
    pass.separated = scaled(std::move(pass.separated), unit.metres_per_unit);

    pass.report.kept = pass.separated.body.size();
    pass.report.on_board = pass.separated.on_board;
    pass.report.clutter = pass.separated.clutter;
    pass.report.clutter_pieces = pass.separated.pieces;
    pass.report.strays = pass.separated.strays;
    pass.report.noise_m = pass.separated.surface.noise;
    pass.report.spacing_m = pass.separated.surface.spacing;
    pass.report.board = pass.board.has_value();
    if (pass.board) {
        const Vec3 up = pass.board->to_board.linear().row(2);
        pass.report.board_tilt_deg =
            std::acos(std::min(1.0, up.cwiseAbs().maxCoeff())) * 180 / std::numbers::pi;
        Box3 over;
        for (const Vec3& p : pass.separated.body.positions) over.extend(pass.board->to_board * p);
        double low = 0, high = 0;  // beside the plane that touches it under the middle
        const Vec3 half = over.sizes() / 2;
        for (const double x : {-half.x(), 0.0, half.x()}) {
            for (const double y : {-half.y(), 0.0, half.y()}) {
                const auto& c = pass.board->surface;
                const double warp = c[3] * x * x + c[4] * x * y + c[5] * y * y;
                low = std::min(low, warp);
                high = std::max(high, warp);
            }
        }
        pass.report.board_warp_m = high - low;
    }

    tell(settings, "averaging the points");
    pass.scale = ScanScale::of(pass.separated.diagonal, pass.separated.surface);
    pass.surface = make_sheet(pass.separated.body, pass.scale, pass.board);
    return pass;
}

SkinGuess bird_guess(const BirdOverlay& bird, const Board& board) {
    const auto in_scan = [board, from_board = Pose(board.to_board.inverse())](const Vec3& place) {
        const double ground = board.height_of_board(place.x(), place.y());
        return Vec3(from_board * Vec3(place + ground * Vec3::UnitZ()));
    };
    return {"bird", [&bird, in_scan](const Vec3& place) { return bird.skin(in_scan(place)); },
            [&bird, in_scan](const Vec3& place) { return bird.changes(in_scan(place)); }, bird.usual};
}

// Closes the side on the board, if there is one.
Sheet with_underside(Pass& pass, const BirdOverlay* bird) {
    Sheet sheet = pass.surface.sheet;
    if (!pass.board) return sheet;
    std::vector<SkinGuess> guesses{round_guess(sheet, *pass.board)};
    if (bird) guesses.push_back(bird_guess(*bird, *pass.board));
    const Underside underside =
        close_underside(sheet, *pass.board, pass.points, pass.separated.cut, pass.scale, guesses);
    pass.report.underside = underside.upright ? "flat" : underside.guess.empty() ? "smooth" : underside.guess;
    pass.report.underside_area_m2 = underside.area;
    pass.report.guess_error_m = underside.guess_error;
    sheet.append(underside.sheet);
    return sheet;
}

// Two passes in the frame of the first, as one surface.
ScannedSurface merged(const Pass& first, const Pass& second, const Pose& move, ScanScale& scale) {
    PointSet both = first.separated.body;
    both.normals.clear();
    both.counts.clear();
    for (const Vec3& p : second.separated.body.positions) both.positions.push_back(move * p);
    Box3 box;
    for (const Vec3& p : both.positions) box.extend(p);
    const double diagonal = box.diagonal().norm();
    // The noise of the two together: where they do not quite fit, that counts too.
    scale = ScanScale::of(diagonal, survey(both, diagonal / 45));

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
    return make_sheet(points, scale, std::nullopt);
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
                     std::vector<double>& support) {
    const bool second_is = second.separated.surface.spacing > first.separated.surface.spacing;
    const Pass& sparser = second_is ? second : first;
    std::vector<Vec3> points = sparser.separated.body.positions;
    if (second_is) {
        for (Vec3& p : points) p = move * p;
    }
    const SurfaceSurvey& surface = sparser.separated.surface;
    const double reach = std::max(1.2 * surface.spacing, 2 * surface.noise);
    const NeighbourGrid near(points, reach);
    parallel_for(support.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t v = begin; v < end; ++v) {
            if (support[v] < unseen_support && near.nearest(mesh.vertices[v], reach) >= 0)
                support[v] = unseen_support;
        }
    });
}

double area_of(const TriangleMesh& mesh, const Triangle& t) {
    const Vec3& a = mesh.corner(t, 0);
    return (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a).norm() / 2;
}

double surface_area(const TriangleMesh& mesh) {
    double area = 0;
    for (const Triangle& t : mesh.triangles) area += area_of(mesh, t);
    return area;
}

TriangleMesh wrapped(const Sheet& sheet, double spacing, int& dropped, const std::string& file) {
    const Indicator indicator = indicate(sheet, spacing);
    TriangleMesh mesh = contour(indicator, dropped);
    // A sheet of paper and a thread have two sides too, a grid's step apart.
    if (!check_solid(mesh).ok() || 2 * volume_moments(mesh).amount < 1.5 * spacing * surface_area(mesh)) {
        refuse(file, "points that enclose nothing", "a body seen from all round",
               "scan again, from all sides and from above");
    }
    return mesh;
}

// Settles the wrap on the points; where that makes it cut itself, the wrap stays as it was.
Settled settled(TriangleMesh& mesh, const ScannedSurface& surface, const Sheet& sheet, const ScanScale& scale,
                ScanReport& report) {
    const std::vector<Vec3> before = mesh.vertices;
    Settled result = settle(mesh, surface.points, sheet, scale);
    std::vector<std::int32_t> cut = self_intersections(mesh);
    for (int ring = 1; !cut.empty() && ring <= 6; ++ring) {
        std::vector<bool> back(mesh.vertices.size(), false);
        for (const std::int32_t t : cut) {
            for (const std::int32_t v : mesh.triangles[std::size_t(t)]) back[std::size_t(v)] = true;
        }
        for (int grow = 0; grow < ring; ++grow) {
            std::vector<bool> wider = back;
            for (const Triangle& t : mesh.triangles) {
                const bool any =
                    back[std::size_t(t[0])] || back[std::size_t(t[1])] || back[std::size_t(t[2])];
                if (any) {
                    for (const std::int32_t v : t) wider[std::size_t(v)] = true;
                }
            }
            back = std::move(wider);
        }
        for (std::size_t v = 0; v < back.size(); ++v) {
            if (back[v]) mesh.vertices[v] = before[v];
        }
        cut = self_intersections(mesh);
    }
    if (!cut.empty()) {
        mesh.vertices = before;
        cut = self_intersections(mesh);
    }
    report.self_intersections = cut.size();
    return result;
}

// Volume as the sum of parallel chords: shares no formula with the sum over tetrahedra.
double volume_by_chords(const SolidQueries& solid) {
    const Box3 box = bounds(solid.mesh());
    const Vec3 size = box.sizes();
    std::vector<double> rows(chords_across, 0.0);
    parallel_for(
        chords_across,
        [&](std::size_t first, std::size_t last) {
            for (std::size_t j = first; j < last; ++j) {
                for (int k = 0; k < chords_across; ++k) {
                    const double y = box.min().y() + size.y() * (double(j) + 0.5) / chords_across;
                    const double z = box.min().z() + size.z() * (k + 0.5) / chords_across;
                    for (const Interval& piece :
                         solid.inside({box.min().x() - 0.01, y, z}, {box.max().x() + 0.01, y, z}))
                        rows[j] += piece.length();
                }
            }
        },
        8);
    double sum = 0;
    for (const double row : rows) sum += row;
    return sum * size.y() * size.z() / (double(chords_across) * chords_across);
}

bool is_unseen(const Triangle& t, const std::vector<double>& support) {
    return std::all_of(t.begin(), t.end(),
                       [&](std::int32_t v) { return support[std::size_t(v)] < unseen_support; });
}

// Vertices that hang together over ground without support.
DisjointSets unseen_places(const TriangleMesh& mesh, const std::vector<double>& support) {
    DisjointSets places(mesh.vertices.size());
    for (const Triangle& t : mesh.triangles) {
        if (!is_unseen(t, support)) continue;
        places.join(t[1], t[0]);
        places.join(t[2], t[0]);
    }
    return places;
}

// How high a body bulges, on average, over an unseen place of that area (σ), where its rim alone tells of it.
double bulge_over(double area) {
    return bulge_of_holes * std::sqrt(area / std::numbers::pi);
}

// Counts the unseen places. Tells how much volume may lie behind them where nothing else bounds them (σ).
double count_holes(const TriangleMesh& mesh, const std::vector<double>& support, double spacing,
                   ScanReport& report) {
    DisjointSets places = unseen_places(mesh, support);
    std::vector<double> area(mesh.vertices.size(), 0.0);
    double all = 0, hidden = 0;
    for (const Triangle& t : mesh.triangles) {
        const double a = area_of(mesh, t);
        all += a;
        if (!is_unseen(t, support)) continue;
        hidden += a;
        area[std::size_t(places.root(t[0]))] += a;
    }
    report.area_m2 = all;
    report.unseen_share = hidden / all;
    report.holes =
        int(std::count_if(area.begin(), area.end(), [&](double a) { return a > 6 * spacing * spacing; }));
    double behind = 0;
    for (const double a : area) behind += bulge_over(a) * a;
    return behind;
}

// How the centre's error spreads when each unseen place is off by `closed_m` and the seen ground by `seen_m`:
// each in one piece, up or down, and sloped as likely as even. Off by h, a surface moves the centre by
// ∫ h (x − centre) dA / V, which then spreads as σ² A ∫ (x − centre)(x − centre)ᵀ dA / V².
// What no board bounds may bulge further if it is large.
Mat3 centre_covariance(const TriangleMesh& mesh, const std::vector<double>& support, double seen_m,
                       double closed_m, bool bounded) {
    const Moments volume = volume_moments(mesh);
    struct Ground {
        double area = 0;
        Mat3 second = Mat3::Zero();
    };
    Ground seen;
    std::map<std::int32_t, Ground> closed;
    DisjointSets places = unseen_places(mesh, support);
    for (const Triangle& t : mesh.triangles) {
        Ground& ground = is_unseen(t, support) ? closed[places.root(t[0])] : seen;
        const double area = area_of(mesh, t);
        const Vec3 arm = (mesh.corner(t, 0) + mesh.corner(t, 1) + mesh.corner(t, 2)) / 3 - volume.centre;
        ground.area += area;
        ground.second += area * arm * arm.transpose();
    }
    Mat3 sum = seen_m * seen_m * seen.area * seen.second;
    for (const auto& [root, ground] : closed) {
        const double off_m = bounded ? closed_m : std::max(closed_m, bulge_over(ground.area));
        sum += off_m * off_m * ground.area * ground.second;
    }
    return sum / (volume.amount * volume.amount);
}

void measure_distances(const SolidQueries& solid, const std::vector<Vec3>& points, ScanReport& report) {
    std::vector<double> distances;
    const double step = std::max(1.0, double(points.size()) / double(distances_taken));
    for (double k = 0; k < double(points.size()); k += step) distances.push_back(double(k));
    parallel_for(distances.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t d = first; d < last; ++d)
            distances[d] = solid.closest(points[std::size_t(distances[d])]).distance;
    });
    if (distances.empty()) return;
    std::sort(distances.begin(), distances.end());
    for (const double d : distances) report.distance_mean_m += d / double(distances.size());
    report.distance_p95_m = distances[std::size_t(0.95 * double(distances.size() - 1))];
    report.distance_max_m = distances.back();
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

Pose item_pose(const TriangleMesh& mesh, const BirdOverlay* bird, const ScanSettings& settings) {
    Pose pose = bird ? bird->to_item : principal_pose(mesh);
    if (!settings.axis && !settings.up) return pose;
    const Vec3 origin = pose.inverse() * Vec3::Zero();
    pose.linear() = wanted_turn(pose.linear(), settings.axis, settings.up);
    pose.translation() = -(pose.linear() * origin);
    return pose;
}

// Of flesh and bone together: regions by what they are made of, in the shares of a whole turkey's weight that
// USDA SR26 05215–05228 and 05738–05740 give. What tables count as bone is about half gristle and sinew, as
// in the parametric birds.
double natural_density(const BirdSpecies& species) {
    constexpr std::array<double, 10> shares{0.36,  0.215, 0.02,  0.01,   0.078,
                                            0.078, 0.062, 0.062, 0.0575, 0.0575};
    const std::vector<RegionMatter> matter = species.matter();
    double mass = 0, volume = 0;
    for (std::size_t r = 0; r < std::min(shares.size(), matter.size()); ++r) {
        const RegionMatter& m = matter[r];
        const double fat = m.skin_and_fat > 0 ? m.skin_and_fat / m.skin_and_fat_density : 0;
        mass += shares[r];
        const double bone = 0.5 * m.bone / bone_density + 0.5 * m.bone / gristle_density;
        volume += shares[r] * (bone + fat + (1 - m.bone - m.skin_and_fat) / m.lean_density);
    }
    return mass / volume;
}

// How far one can go from `start` in a direction, up to `most`, and stay `cavity_clearance_m` inside the
// skin.
double room(const SolidQueries& skin, const Vec3& start, const Vec3& direction, double most) {
    constexpr double close = 2e-4;
    double gone = 0;
    while (gone < most) {
        const Vec3 here = start + gone * direction;
        if (!skin.contains(here)) return 0;
        const double step = skin.closest(here).distance - cavity_clearance_m;
        if (step < close) break;
        gone += step;
    }
    return std::min(gone, most);
}

// The stretch of the item's axis, in shares of a bird's hollow, round which the skin leaves room.
std::optional<std::pair<double, double>> roomy_stretch(const BirdOverlay& bird, const SolidQueries& skin) {
    constexpr int steps = 60;
    const Box3 hollow = bounds(bird.cavity_piece(0, 1, 1));
    std::optional<std::pair<double, double>> longest;
    std::optional<int> began;
    for (int k = 0; k <= steps + 1; ++k) {
        const Vec3 place(hollow.min().x() + hollow.sizes().x() * k / steps, 0, 0);
        const bool roomy =
            k <= steps && skin.contains(place) && skin.closest(place).distance > 2 * cavity_clearance_m;
        if (roomy && !began) began = k;
        if (roomy || !began) continue;
        const std::pair<double, double> stretch(double(*began) / steps, double(k - 1) / steps);
        if (!longest || stretch.second - stretch.first > longest->second - longest->first) longest = stretch;
        began.reset();
    }
    if (longest && longest->second - longest->first < least_cavity_stretch) longest.reset();
    return longest;
}

// The hollow inside a bird, in its item frame: the cavity of the fitted bird, made as large as `volume` and
// kept off the skin. Where the skin comes near it gives way, and grows for it elsewhere.
std::optional<TriangleMesh> cavity_inside(const BirdOverlay& bird, const SolidQueries& skin, double volume) {
    const std::optional<std::pair<double, double>> stretch = roomy_stretch(bird, skin);
    if (!stretch) return std::nullopt;
    const TriangleMesh natural = bird.cavity_piece(stretch->first, stretch->second, 1);
    std::vector<double> most(
        natural.vertices.size());  // how far each corner may move off the axis, in itself
    parallel_for(most.size(), [&](std::size_t first, std::size_t last) {
        for (std::size_t v = first; v < last; ++v) {
            const Vec3 on_axis(natural.vertices[v].x(), 0, 0);
            const Vec3 outward = natural.vertices[v] - on_axis;
            const double radius = outward.norm();
            most[v] =
                radius > 0 ? room(skin, on_axis, outward / radius, broadest_cavity * radius) / radius : 1;
        }
    });
    const auto as_broad_as = [&](double across) {
        TriangleMesh mesh = natural;
        for (std::size_t v = 0; v < most.size(); ++v) {
            mesh.vertices[v].tail<2>() *= std::min(across, most[v]);
        }
        return mesh;
    };
    double narrow = 0, broad = broadest_cavity;
    for (int round = 0; round < 30; ++round) {
        const double across = 0.5 * (narrow + broad);
        (volume_moments(as_broad_as(across)).amount < volume ? narrow : broad) = across;
    }
    TriangleMesh mesh = as_broad_as(broad);
    if (!check_solid(mesh).ok()) return std::nullopt;
    return mesh;
}

// For what is no bird: meat, bone and all.
void doubt_density(ScanReport& report) {
    if (!report.density_kg_m3) return;
    if (*report.density_kg_m3 >= least_meat_density && *report.density_kg_m3 <= greatest_meat_density) return;
    report.remarks.push_back(
        fmt::format("The weight and the volume do not fit together: {:.0f} kg/m3 where meat has {:.0f} to "
                    "{:.0f}. Look at the unit, the weight, and whether a board or plate is still under it.",
                    *report.density_kg_m3, least_meat_density, greatest_meat_density));
}

void infer_cavity(ScannedBody& result, const BirdOverlay& bird, const SolidQueries& skin,
                  const ScanSettings& settings) {
    ScanReport& report = result.report;
    const double density = natural_density(*bird.species);
    double volume = volume_moments(bird.cavity_piece(0, 1, 1)).amount;
    if (settings.mass_kg) {
        const double hollow = report.volume_m3 - *settings.mass_kg / density;
        if (hollow > greatest_hollow * report.volume_m3 || hollow < -least_hollow * report.volume_m3) {
            report.remarks.push_back(
                fmt::format("The weight and the volume do not fit together: {:.0f} kg/m3 where a drawn bird "
                            "has {:.0f} to {:.0f}. Look at the "
                            "unit, the weight, and whether the bird is stuffed.",
                            *settings.mass_kg / report.volume_m3, density * (1 - greatest_hollow),
                            density * (1 + least_hollow)));
        } else if (hollow < least_hollow * report.volume_m3) {
            report.cavity_m3 = 0;
            report.cavity_from_mass = true;
            return;
        } else {
            volume = hollow;
            report.cavity_from_mass = true;
        }
    } else {
        report.remarks.emplace_back(
            "No weight was given: the cavity is taken as large as the parametric bird's.");
    }
    result.cavity = cavity_inside(bird, skin, volume);
    if (!result.cavity) {
        report.remarks.emplace_back("No cavity was put inside: it found no room under this skin.");
        return;
    }
    const double placed = volume_moments(*result.cavity).amount;
    report.cavity_m3 = volume;
    if (placed < 0.9 * volume) {
        report.remarks.push_back(fmt::format("Only {:.0f} of {:.0f} cm3 of cavity found room inside.",
                                             placed * 1e6, volume * 1e6));
    }
}

// Which sides went unseen, told in words. Normals are in the item frame.
void give_advice(const TriangleMesh& mesh, const std::vector<double>& support, bool bird,
                 ScanReport& report) {
    struct Side {
        Vec3 direction;
        const char* of_bird;
        const char* of_other;
    };
    const std::array<Side, 6> sides{{{Vec3::UnitX(), "neck end", "end at +x"},
                                     {-Vec3::UnitX(), "vent end", "end at -x"},
                                     {Vec3::UnitY(), "right side", "side at +y"},
                                     {-Vec3::UnitY(), "left side", "side at -y"},
                                     {Vec3::UnitZ(), "breast", "side at +z"},
                                     {-Vec3::UnitZ(), "back", "side at -z"}}};
    std::array<double, 6> all{}, hidden{};
    double area = 0;
    for (const Triangle& t : mesh.triangles) {
        const Vec3& a = mesh.corner(t, 0);
        const Vec3 n = (mesh.corner(t, 1) - a).cross(mesh.corner(t, 2) - a) / 2;
        std::size_t best = 0;
        for (std::size_t s = 1; s < sides.size(); ++s) {
            if (n.dot(sides[s].direction) > n.dot(sides[best].direction)) best = s;
        }
        all[best] += n.norm();
        area += n.norm();
        if (is_unseen(t, support)) hidden[best] += n.norm();
    }
    for (std::size_t s = 0; s < sides.size(); ++s) {
        if (hidden[s] < 0.4 * all[s] || hidden[s] < 0.03 * area) continue;
        report.advice.push_back(
            fmt::format("The {} was not seen: turn the {} over and scan again, then give both scans.",
                        bird ? sides[s].of_bird : sides[s].of_other, bird ? "bird" : "roast"));
    }
    for (const ScanPassReport& pass : report.passes) {
        if (pass.noise_m > 0.003) {
            report.advice.push_back(fmt::format(
                "The points scatter by {:.1f} mm: go nearer, slower, in better light.", pass.noise_m * 1e3));
        }
        if (pass.spacing_m > 0.005) {
            report.advice.push_back(
                fmt::format("The points are {:.1f} mm apart: scan finer.", pass.spacing_m * 1e3));
        }
    }
}

// A mesh that is closed as it came.
bool already_closed(const RawScan& raw) {
    if (raw.content.mesh.triangles.empty()) return false;
    const SolidReport report = check_solid(raw.content.mesh);
    return report.ok() && report.components == 1 && self_intersections(raw.content.mesh).empty();
}

}  // namespace

ScannedBody scan_body(const std::vector<RawScan>& scans, const ScanSettings& settings) {
    if (scans.empty() || scans.size() > 2) {
        refuse(scans.empty() ? "" : scans.back().file.string(), fmt::format("{} scans", scans.size()),
               "one, or two that see the body lying on different sides", "");
    }
    ScannedBody result;
    ScanReport& report = result.report;
    std::vector<Pass> passes;
    passes.reserve(scans.size());
    for (const RawScan& raw : scans) passes.push_back(clean(raw, settings, report));
    Pass& first = passes.front();

    ScannedSurface surface;
    ScanScale scale = first.scale;
    Pose second_to_first = Pose::Identity();
    bool on_one_side = false;
    double misfit = 0;  // of two scans, beside their noise
    std::optional<BirdOverlay> bird;
    const auto look_for_bird = [&](const Sheet& sheet, const std::optional<Board>& board) {
        if (settings.kind == RoastKind::other) return;
        tell(settings, "fitting a bird");
        BirdOverlay fit = overlay_bird(sheet, board);
        report.bird_error_m = fit.error;
        if (settings.kind == RoastKind::bird || fit.is_bird()) bird = std::move(fit);
    };

    const bool kept_as_is = scans.size() == 1 && !first.board && already_closed(scans.front());
    std::vector<double> support;
    if (kept_as_is) {
        result.mesh = scaled(scans.front().content.mesh, report.metres_per_unit);
        report.remarks.emplace_back("The scan was closed already and is kept as it came.");
        support.assign(result.mesh.vertices.size(), 1.0);
        look_for_bird(first.surface.sheet, std::nullopt);
    } else {
        Sheet sheet;
        if (scans.size() == 1) {
            surface = first.surface;
            look_for_bird(surface.sheet, first.board);
            tell(settings, "closing the underside");
            sheet = with_underside(first, bird ? &*bird : nullptr);
        } else {
            Pass& second = passes.back();
            tell(settings, "bringing the two scans together");
            std::array<TriangleMesh, 2> rough;
            for (std::size_t k = 0; k < 2; ++k) {
                int ignored = 0;
                const Sheet closed = with_underside(passes[k], nullptr);
                rough[k] = wrapped(closed, 2.5 * passes[k].scale.spacing, ignored, passes[k].report.file);
            }
            const Registration fit =
                register_scans(first.surface.sheet, rough[0], second.surface.sheet, rough[1],
                               std::max(first.scale.noise, second.scale.noise));
            report.registration = RegistrationReport{fit.error, fit.overlap, fit.agreement, fit.rival};
            const double size = bounds(rough[0]).diagonal().norm();
            const double limit =
                std::max(bad_fit_in_sizes * size, 2 * std::max(first.scale.noise, second.scale.noise));
            if (fit.error > limit || fit.overlap < good_overlap || fit.agreement < good_agreement) {
                refuse(second.report.file,
                       fmt::format("a scan that lies {:.1f} mm off the first over {:.0f} % of itself, and "
                                   "beside it over {:.0f} % of what both saw",
                                   fit.error * 1e3, fit.overlap * 100, 100 * (1 - fit.agreement)),
                       fmt::format("at most {:.1f} mm, over at least {:.0f} %, and beside it over at most "
                                   "{:.0f} %",
                                   limit * 1e3, good_overlap * 100, 100 * (1 - good_agreement)),
                       "scan the same body twice without moving its limbs, or give one scan alone");
            }
            if (fit.rival > doubtful_rival) {
                report.remarks.emplace_back(
                    "The two scans fit each other in more than one way almost as well: look whether the body "
                    "is "
                    "right. A skewer stuck in, seen in both scans, settles it.");
            }
            // Points of one surface lie nearer to each other, averaged, than they scatter.
            const double scatter = std::max(first.scale.noise, second.scale.noise);
            misfit = std::sqrt(std::max(0.0, fit.error * fit.error - scatter * scatter));
            if (misfit > doubtful_misfit_m) {
                report.remarks.push_back(fmt::format(
                    "The two scans lie {:.1f} mm off each other where their points scatter by {:.1f} "
                    "mm: did a limb move, is it the same body, and do both have the same unit?",
                    fit.error * 1e3, scatter * 1e3));
            }
            for (Pass& pass : passes) {
                pass.report.underside.clear();
                pass.report.underside_area_m2 = 0;
                pass.report.guess_error_m = 0;
            }
            tell(settings, "merging");
            second_to_first = fit.move;
            surface = merged(first, second, second_to_first, scale);
            on_one_side = lie_on_one_side(first, second, second_to_first);
            if (on_one_side) {
                report.remarks.emplace_back(
                    "The body lies on the same side in both scans: one closes it no "
                    "better than the other.");
                first.surface = surface;
                first.scale = scale;
                look_for_bird(surface.sheet, first.board);
                sheet = with_underside(first, bird ? &*bird : nullptr);
            } else {
                look_for_bird(surface.sheet, std::nullopt);
                sheet = surface.sheet;
            }
        }
        tell(settings, "wrapping");
        result.mesh = wrapped(sheet, scale.spacing, report.pieces_dropped, first.report.file);
        tell(settings, "settling on the points");
        const Settled found = settled(result.mesh, surface, sheet, scale, report);
        report.offset_before_m = found.offset_before;
        report.offset_after_m = found.offset_after;
        support = found.support;
        if (scans.size() == 2) back_by_sparser(result.mesh, first, passes.back(), second_to_first, support);
    }
    for (const Pass& pass : passes) report.passes.push_back(pass.report);

    tell(settings, "checking");
    report.closed = check_solid(result.mesh).ok();
    result.bird = bird.has_value();
    result.to_item = item_pose(result.mesh, bird ? &*bird : nullptr, settings);

    std::vector<Vec3> seen = first.separated.body.positions;
    for (Vec3& p : seen) p = result.to_item * p;
    TriangleMesh in_item = transformed(result.mesh, result.to_item);
    const SolidQueries solid(in_item);
    report.volume_m3 = volume_moments(in_item).amount;
    report.volume_by_chords_m3 = volume_by_chords(solid);
    report.size_m = bounds(in_item).sizes();
    report.triangles = in_item.triangles.size();
    const double behind_holes = count_holes(in_item, support, scale.spacing, report);
    const double most_unseen = first.board && scans.size() == 1 ? greatest_unseen_on_board : greatest_unseen;
    if (report.unseen_share > most_unseen) {
        refuse(first.report.file,
               fmt::format("{} that saw {:.1f} % of the body", scans.size() == 1 ? "a scan" : "two scans",
                           100 * (1 - report.unseen_share)),
               fmt::format("at least {:.0f} %", 100 * (1 - most_unseen)),
               "walk all round it; or turn it over, scan again, and give both scans");
    }
    measure_distances(solid, seen, report);
    // Seen ground is off by what drift and averaging leave, a fifth of a millimetre and a tenth of the noise;
    // closed ground by what a guess may miss. Both from scans simulated with known truth (tests/scan).
    const double seen_sigma =
        (2e-4 + 0.1 * scale.noise + misfit / 2) * report.area_m2 * (1 - report.unseen_share);
    // A guess that misses what was seen will miss the rest by as much.
    const double closed_ground =
        bird ? ground_of_bird_m : std::max(ground_of_guess_m, first.report.guess_error_m);
    double closed_sigma = closed_ground * report.area_m2 * report.unseen_share;
    const bool bounded =
        (scans.size() == 1 || on_one_side) && first.board;  // what was not seen lies between body and board
    if (!bounded) closed_sigma = std::max(closed_sigma, behind_holes);
    report.volume_sigma_m3 = std::hypot(seen_sigma, closed_sigma);
    const Vec3 centre = volume_moments(in_item).centre;
    report.centre_m = settings.keep_frame ? Vec3(result.to_item.inverse() * centre) : centre;
    // What came closed knows no more of itself than it says.
    auto& covariance = report.centre_covariance_m2;
    covariance = kept_as_is ? scans.front().content.centre_covariance
                            : centre_covariance(result.mesh, support, seen_ground_m + misfit / 2,
                                                closed_ground, bounded);
    if (covariance && kept_as_is) *covariance *= report.metres_per_unit * report.metres_per_unit;
    if (covariance && !settings.keep_frame) *covariance = turned(*covariance, result.to_item);
    if (covariance) report.centre_sigma_m = std::sqrt(covariance->trace());

    report.kind = "other";
    report.bird = result.bird;
    report.axis_confidence = bird ? bird->confidence : 0;
    report.axes_from = bird ? "bird" : "principal axes";
    if (settings.axis || settings.up) {
        report.axis_confidence = 1;
        report.axes_from = "user";
    }
    report.mass_kg = settings.mass_kg;
    if (settings.mass_kg) report.density_kg_m3 = *settings.mass_kg / report.volume_m3;
    if (bird) {
        result.region_names = bird_region_names();
        result.density_kg_m3 = natural_density(*bird->species);
        report.kind = std::string(bird->species->name);
        for (const Triangle& t : result.mesh.triangles) {
            const Vec3 middle =
                (result.mesh.corner(t, 0) + result.mesh.corner(t, 1) + result.mesh.corner(t, 2)) / 3;
            result.regions.push_back(static_cast<std::uint8_t>(bird->region(middle)));
        }
        infer_cavity(result, *bird, solid, settings);
        if (report.axis_confidence < 0.3) {
            report.remarks.emplace_back(
                "Which end is the neck, or which side the breast, is not certain: look at it in the viewer, "
                "or name axis and up.");
        }
    } else {
        doubt_density(report);
    }
    if (!bird && settings.keep_frame) {
        report.axes_from = "file";
        report.remarks.emplace_back("No bird fits this scan: it has no named parts.");
    } else if (!bird && !(settings.axis && settings.up)) {
        report.remarks.emplace_back(
            settings.axis || settings.up
                ? "No bird fits this scan: what was not named of its axes follows its "
                  "principal axes, and it has no named parts."
                : "No bird fits this scan: its axes are its principal axes, and it has "
                  "no named parts.");
    }
    give_advice(in_item, support, result.bird, report);
    if (scans.size() == 1 && report.centre_sigma_m > doubtful_centre_m) {
        report.advice.push_back(fmt::format(
            "What was not seen is a guess, which leaves the centre uncertain by {:.1f} mm and the volume "
            "by {:.1f} % (one standard deviation): a second scan, turned over, gives both.",
            report.centre_sigma_m * 1e3, 100 * report.volume_sigma_m3 / report.volume_m3));
    }

    if (settings.keep_frame) {
        if (result.cavity) *result.cavity = transformed(*result.cavity, result.to_item.inverse());
    } else {
        result.mesh = std::move(in_item);
    }
    return result;
}

Body to_body(const ScannedBody& scanned, const std::string& name, std::optional<double> mass_kg) {
    SolidBodyOptions options;
    options.name = name;
    options.mass_kg = scanned.bird ? std::nullopt : mass_kg;
    options.centre_covariance_m2 = scanned.report.centre_covariance_m2;
    Body body = solid_body(scanned.mesh, options);
    if (!scanned.bird) return body;
    body.remarks.clear();
    body.pointed_ends_known = true;
    body.region_names = scanned.region_names;
    body.parts[0].regions = scanned.regions;
    body.parts[0].density_kg_m3 = scanned.density_kg_m3;
    if (scanned.cavity) {
        body.parts.push_back(
            {.name = "cavity", .kind = PartKind::cavity, .mesh = *scanned.cavity, .parent = 0});
        body.remarks.emplace_back(
            "The cavity is inferred, not scanned: it lies where the parametric bird has it.");
        // The hollow weighs nothing, so that what is off in the skin counts for more.
        const double share = volume_moments(scanned.mesh).amount / matter_volume(body);
        if (body.centre_covariance_m2) *body.centre_covariance_m2 *= share * share;
    }
    body.remarks.emplace_back("Flesh and bone are taken as one density throughout.");
    return mass_kg ? with_scale_weight(std::move(body), *mass_kg) : body;
}

}  // namespace evenspit
