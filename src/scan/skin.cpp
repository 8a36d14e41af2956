// SPDX-License-Identifier: MIT
#include "scan/skin.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>

#include "geometry/moments.h"
#include "geometry/solid_check.h"
#include "scan/app_closing.h"
#include "scan/fill_holes.h"
#include "scan/hollow.h"
#include "scan/refuse_scan.h"
#include "scan/round_guess.h"
#include "scan/self_intersections.h"
#include "scan/settle.h"
#include "scan/skin_guess.h"
#include "scan/stoppable.h"
#include "scan/support.h"
#include "scan/underside.h"
#include "scan/wrap.h"

namespace evenspit::scan {

namespace {

constexpr int most_rings = 6;  // round triangles that cut each other, taken back with them
// A surface is kept where its holes take at most this share of it (what bulges over a large one is anyone's
// guess), and where its points scatter by less than this part of its size: averaging gains more where they
// scatter more.
constexpr std::size_t fewest_seen = 2000;
constexpr double survey_patches = 45;  // on which the surface is surveyed
// Likeliest over scans of known truth (tests/scan/scan_table), even seeds of bodies on stands, in tins and on
// plates alike.
constexpr double behind_carrier_departs_more = 1.5;
// A round guess knows little of a flank that was hidden, by the walls of a tin, by the body's own girth, or
// in noise: bodies depart further from it there. The same, over roasts in tins, fish, and noisy cameras.
constexpr double behind_wall_departs_more = 2.4;
constexpr double hidden_departs_more = 3, usually_hidden = 0.3;  // of the body's height
constexpr double much_noise_hides_m = 0.001;
// Averaging over points cuts curved skin short: so far inside the true skin lies what is made of any scan.
// Where noise is beyond the usual, what is seen at a slant is lost first, and more is lost by so much of it.
// Even seeds of bodies scanned twice and of noisy cameras.
constexpr double averaging_shrinks_m = 1e-4, noise_shrinks = 0.6, usual_noise_m = 0.0018;
// How far a bird departs where nobody looked goes with how near it came to what was seen: as usual where it
// misses that by so much of its size, by the root of it less where it comes nearer. Birds and others, alike.
constexpr double usual_bird_misses = 0.0095, nearest_bird_departs = 0.65, worst_bird_departs = 1.4;
// What is wide of its guess departs by so much of its own miss.
constexpr double wide_guess_departs_m = 0.004;
// Of bodies that may rest on something nobody saw: σ of the height they rest at, to what was hidden. One in
// ten or so does, half as high; common practice.
constexpr double rests_sigma = 0.1;
constexpr double much_hidden_m = 0.015, little_air = 0.25;
// A bird must explain so much better what was seen than a body without a name does: parametric birds do 5
// times, birds of lumps twice, arched ribs 1.3 times.
constexpr double least_better_than_round = 1.6;
constexpr double carrier_sigma_m =
    0.006;  // of the height of a rack that is told but not seen; common practice
constexpr const char* flat_side = "flat";  // the name of how walls were closed that go straight down
// A bird and a body without a name are near each other: one was taken for a bird, with little to spare; or
// for none, though a bird explains more. The true body is either: σ is half of what is between them.
constexpr double little_confidence = 0.65, little_better = 2;
constexpr double some_confidence = 0.25, bird_like_nearly = 0.022;
constexpr double either = 0.5;
// Of what an app put under a body and what is guessed there instead, the truth lies anywhere between, or
// near.
constexpr double app_differs = 0.3;
// How high the edge of what was seen stands over what the body lay on, and its σ, to what was seen over it.
// Apps cut and close at an eighth to a third of the height; what they cut flat may also be cut at the board,
// where the flanks were not seen to come down to it. Even seeds of bulges, and of flat patches and floors.
struct EdgeHeight {
    double share, sigma;
};
constexpr EdgeHeight of_rim{0.27, 0.09}, of_cut{0.24, 0.12};
constexpr double ends_over_board = 0.6;  // σ, to how far it does
constexpr double rim_contact_m = 0.003;  // so that the body is brought down to there
constexpr double most_filled = 0.05, most_scatter = 0.002;

SkinGuess bird_guess(const BirdOverlay& bird, const Board& board) {
    const auto in_scan = [board](const Vec3& place) { return board.from_flat(place); };
    return {"bird",
            [&bird, in_scan](const Vec3& place) { return bird.skin(in_scan(place)); },
            [&bird, in_scan](const Vec3& place) { return bird.changes(in_scan(place)); },
            bird.usual,
            board.carries,
            board.height_sigma};
}

// What stands round a body's foot leaves more of it unseen than a board does: it departs further from its
// guess there. A stand hides little; what an app cut off, as much as a wall.
void depart_further(Underside& found, const Pass& pass, double noise) {
    const std::optional<Carrier>& carrier = pass.carrier;
    double more = carrier && carrier->kind == RestsOn::tin ? behind_carrier_departs_more : 1;
    if (found.guess != "bird") {
        const bool wall = pass.seen_to_rim || (carrier && carrier->kind == RestsOn::tin && !carrier->sloped);
        more = std::max({more, wall ? behind_wall_departs_more : 1,
                         1 + hidden_departs_more * (found.resting.hidden_share - usually_hidden),
                         noise / much_noise_hides_m,
                         found.guess_error > wide_of_guess_m ? found.guess_error / wide_guess_departs_m : 1});
    } else {
        const double misses = found.guess_error / pass.separated.diagonal;
        more *= std::clamp(std::sqrt(misses / usual_bird_misses), nearest_bird_departs, worst_bird_departs);
    }
    found.ground.covariance *= more * more;
}

// All that was closed is off in one piece as well. \param sigma_m of that
void shift_in_one_piece(GuessedGround& ground, double sigma_m) {
    ground.covariance.array() += std::pow(sigma_m / unseen_departs_more, 2);
}

// Whether most of what a body comes down to is hidden, so that it may rest on something.
bool may_rest_on_something(const Resting& resting) {
    return resting.hidden_below_m > much_hidden_m && resting.air_beneath < little_air;
}

// What was not seen of how the body rests: widens what is told of the ground, and says so.
void doubt_rest(const Pass& pass, Skin& skin) {
    const Resting& resting = skin.underside.resting;
    if (!pass.board || !pass.board->carries || pass.carrier || skin.underside.ground.at.empty()) return;
    if (pass.rests_on == RestsOn::rack || pass.rests_on == RestsOn::tin) {
        shift_in_one_piece(skin.underside.ground, carrier_sigma_m);
    } else if (pass.rests_on == RestsOn::automatic && may_rest_on_something(resting)) {
        shift_in_one_piece(skin.underside.ground, rests_sigma * resting.hidden_below_m);
        skin.notes.emplace_back(note::RestHidden{resting.hidden_below_m});
    }
}

// Whether there is a hollow beneath, which one scan does not show.
void doubt_hollow(const Pass& pass, Skin& skin) {
    if (!pass.board || !pass.board->carries || skin.looked.bird || skin.underside.ground.at.empty()) return;
    const Hollow hollow = hollow_beneath(skin.underside.resting, skin.underside.guess_error_m, pass.kind);
    shift_in_one_piece(skin.underside.ground,
                       hollow.sigma * volume_moments(skin.mesh).amount / skin.underside.area_m2);
    if (hollow.ask) skin.notes.emplace_back(note::MaybeHollow{});
}

// How far what was seen lies from the nearest body without a name, as BirdOverlay::error says it of a bird.
double round_error(const Sheet& sheet, const Board& board, double size, const StopControl& control) {
    const SkinGuess guess = round_guess(sheet, board, control);
    const double most = 0.06 * size;
    double squares = 0, count = 0;
    EveryNthCheck now_and_then(control, 1024);
    for (std::size_t s = 0; s < sheet.size(); s += 4) {
        now_and_then.step();
        if (sheet.invented[s]) continue;
        const double off = std::min(most, std::abs(guess.field(board.on_flat(sheet.positions[s]))));
        squares += off * off;
        ++count;
    }
    return count > 0 ? std::sqrt(squares / count) : 0;
}

// The vertices of triangles, and `rings` rings of neighbours round them.
std::vector<bool> around(const TriangleMesh& mesh, const std::vector<std::int32_t>& triangles, int rings) {
    std::vector<bool> marked(mesh.vertices.size(), false);
    const auto mark = [](std::vector<bool>& marks, const Triangle& t) {
        for (const std::int32_t v : t) marks[std::size_t(v)] = true;
    };
    for (const std::int32_t t : triangles) mark(marked, mesh.triangles[std::size_t(t)]);
    for (int ring = 0; ring < rings; ++ring) {
        std::vector<bool> wider = marked;
        for (const Triangle& t : mesh.triangles) {
            if (marked[std::size_t(t[0])] || marked[std::size_t(t[1])] || marked[std::size_t(t[2])])
                mark(wider, t);
        }
        marked = std::move(wider);
    }
    return marked;
}

// Where a settled mesh cuts itself, vertices go back to where they came from: with each round a ring more,
// and in the end all. Returns how many triangles are cut even so.
std::size_t take_back_cuts(TriangleMesh& mesh, const std::vector<Vec3>& before, const StopControl& control) {
    std::vector<std::int32_t> cut = self_intersections(mesh, control);
    for (int ring = 1; !cut.empty() && ring <= most_rings; ++ring) {
        const std::vector<bool> back = around(mesh, cut, ring);
        for (std::size_t v = 0; v < back.size(); ++v) {
            if (back[v]) mesh.vertices[v] = before[v];
        }
        cut = self_intersections(mesh, control);
    }
    if (!cut.empty()) {
        mesh.vertices = before;
        cut = self_intersections(mesh, control);
    }
    return cut.size();
}

// Takes back what averaging and noise made the seen skin too small by.
void grow_by_noise(TriangleMesh& mesh, const std::vector<double>& support, double noise) {
    const double by = averaging_shrinks_m + noise_shrinks * std::max(0.0, noise - usual_noise_m);
    const std::vector<Vec3> normals = vertex_normals(mesh);
    for (std::size_t v = 0; v < normals.size(); ++v)
        mesh.vertices[v] += by * std::clamp(support[v], 0.0, 1.0) * normals[v];
}

}  // namespace

LookedForBird look_for_bird(const Sheet& sheet, const std::optional<Board>& board,
                            const ScanSettings& settings, const ScanProgress& progress) {
    if (settings.kind == RoastKind::roast || settings.kind == RoastKind::ribs) return {};
    progress.begin("fitting a bird");
    BirdOverlay fit = overlay_bird(sheet, board, progress.control());
    LookedForBird looked;
    looked.error_m = fit.error;
    if (board) looked.round_error_m = round_error(sheet, *board, fit.size, progress.control());
    // How much better the bird explains what was seen; without a board nothing is compared.
    const double better = board && fit.error > 0 ? looked.round_error_m / fit.error : little_better;
    const bool asked = board && settings.kind == RoastKind::automatic;
    if (settings.kind == RoastKind::bird || (fit.is_bird() && better > least_better_than_round)) {
        looked.doubtful = asked && (fit.confidence < little_confidence || better < little_better);
        looked.bird = std::move(fit);
    } else if (asked && better > least_better_than_round && fit.confidence > some_confidence &&
               fit.error < bird_like_nearly * fit.size) {
        looked.doubtful = true;
        looked.maybe = std::move(fit);
    }
    return looked;
}

ClosedSheet with_underside(const ScannedSurface& surface, const ScanScale& scale, const Pass& pass,
                           const BirdOverlay* bird, const StopControl& control) {
    ClosedSheet closed{surface.sheet, {}};
    if (!pass.board) return closed;
    std::vector<SkinGuess> guesses{round_guess(surface.sheet, *pass.board, control)};
    if (pass.board->carries && !bird) {
        guesses[0].arch_share = [kind = pass.kind](const Resting& resting, double error_m) {
            return hollow_beneath(resting, error_m, kind).rise;
        };
    }
    if (bird) guesses.push_back(bird_guess(*bird, *pass.board));
    Underside found =
        close_underside(surface.sheet, *pass.board, pass.points, pass.separated.cut, scale, guesses, control);
    depart_further(found, pass, scale.noise);
    closed.underside = {found.upright         ? flat_side
                        : found.guess.empty() ? "smooth"
                                              : found.guess,
                        found.area, found.guess_error, std::move(found.ground), found.resting};
    closed.sheet.append(found.sheet);
    return closed;
}

TriangleMesh wrapped(const Sheet& sheet, double spacing, int& dropped, const std::string& file,
                     const StopControl& control) {
    TriangleMesh mesh = wrap(sheet, spacing, dropped, control);
    // A sheet of paper and a thread have two sides too, a grid's step apart.
    if (!check_solid(mesh).ok() || 2 * volume_moments(mesh).amount < 1.5 * spacing * surface_area(mesh)) {
        refuse_scan(file, "points that enclose nothing", "a body seen from all round",
                    "scan again, from all sides and from above");
    }
    return mesh;
}

void close_skin(Skin& skin, const Sheet& sheet, const ScannedSurface& surface, const std::string& file,
                const ScanProgress& progress) {
    const StopControl& control = progress.control();
    progress.begin("wrapping");
    skin.mesh = wrapped(sheet, skin.scale.spacing, skin.pieces_dropped, file, control);
    progress.begin("settling on the points");
    const std::vector<Vec3> before = skin.mesh.vertices;
    Settled found = settle(skin.mesh, surface.points, sheet, skin.scale, control);
    grow_by_noise(skin.mesh, found.support, skin.scale.noise);
    skin.self_intersections = take_back_cuts(skin.mesh, before, control);
    skin.offset_before_m = found.offset_before;
    skin.offset_after_m = found.offset_after;
    skin.support = std::move(found.support);
}

namespace {

// \param bird what is laid over it; null: none
Skin closed_skin(const Pass& pass, const BirdOverlay* bird, const ScanProgress& progress) {
    Skin skin;
    skin.scale = pass.scale;
    progress.begin("closing the underside");
    ClosedSheet closed = with_underside(pass.surface, skin.scale, pass, bird, progress.control());
    skin.underside = std::move(closed.underside);
    close_skin(skin, closed.sheet, pass.surface, pass.report.file, progress);
    return skin;
}

// Where a bird and a body without a name are near each other, the body may be as the other has it.
void ask_whether_bird(const Pass& pass, const ScanProgress& progress, Skin& skin) {
    const Skin other = closed_skin(pass, skin.looked.maybe ? &*skin.looked.maybe : nullptr, progress);
    const Moments here = volume_moments(skin.mesh), there = volume_moments(other.mesh);
    skin.questions.push_back({either * (there.amount - here.amount), either * (there.centre - here.centre)});
    skin.notes.emplace_back(note::BirdOrRoast{skin.looked.bird.has_value()});
}

}  // namespace

Skin skin_of(const Pass& pass, const ScanSettings& settings, const ScanProgress& progress) {
    LookedForBird looked = look_for_bird(pass.surface.sheet, pass.board, settings, progress);
    Skin skin = closed_skin(pass, looked.bird ? &*looked.bird : nullptr, progress);
    skin.looked = std::move(looked);
    doubt_rest(pass, skin);
    doubt_hollow(pass, skin);
    if (skin.looked.doubtful) ask_whether_bird(pass, progress, skin);
    return skin;
}

std::optional<SolidReport> without_rim(const RawScan& raw, const Pass& pass) {
    const TriangleMesh& mesh = raw.content.mesh;
    if (pass.board || mesh.triangles.empty()) return std::nullopt;
    SolidReport report = check_solid(mesh);
    if (!report.ok() && report.fault != SolidFault::non_manifold) return std::nullopt;
    return report;
}

bool came_closed(const RawScan& raw, const SolidReport& report, const StopControl& control) {
    return report.ok() && report.components == 1 && self_intersections(raw.content.mesh, control).empty();
}

namespace {

// A scan's own surface, all of it seen unless it says otherwise.
Skin kept(const TriangleMesh& mesh, const std::vector<float>& unseen, const Pass& pass,
          const ScanSettings& settings, const ScanProgress& progress) {
    Skin skin;
    skin.scale = pass.scale;
    skin.mesh = scaled(mesh, pass.metres_per_unit);
    skin.support.assign(skin.mesh.vertices.size(), 1.0);
    // What was made of a scan before may tell which of its triangles nobody saw.
    for (std::size_t t = 0; t < unseen.size() && t < skin.mesh.triangles.size(); ++t) {
        if (unseen[t] < 1) continue;
        for (const std::int32_t v : skin.mesh.triangles[t]) skin.support[std::size_t(v)] = 0;
    }
    skin.looked = look_for_bird(pass.surface.sheet, std::nullopt, settings, progress);
    return skin;
}

}  // namespace

Skin as_it_came(const RawScan& raw, const Pass& pass, const ScanSettings& settings,
                const ScanProgress& progress) {
    Skin skin = kept(raw.content.mesh, raw.content.unseen, pass, settings, progress);
    skin.came_closed = true;
    skin.notes.emplace_back(note::CameClosed{});
    return skin;
}

namespace {

// The board that a body lay on which was seen down to an edge only.
Board board_below(const AppClosing& closing, const EdgeHeight& edge) {
    double tall = 0;
    for (const Vec3& p : closing.seen.positions) tall = std::max(tall, closing.up.dot(p) - closing.floor);
    const Vec3& near = closing.seen.positions.front();
    const double level = closing.floor - edge.share * tall;
    Board board = level_board(near + (level - closing.up.dot(near)) * closing.up, closing.up);
    board.height_sigma = rim_contact_m;  // what is not known of its level: stretch_below()
    return board;
}

// What is under an edge reaches less or further down with all its depth; and what ends over its board, as a
// guess with a flat side may, further.
void stretch_below(GuessedGround& ground, const Board& board, const AppClosing& closing,
                   const EdgeHeight& edge) {
    const Vec3& up = closing.up;
    Eigen::VectorXd depths(Eigen::Index(ground.at.size())), down(depths.size());
    double over_board = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < ground.at.size(); ++k) {
        depths[Eigen::Index(k)] = std::max(0.0, closing.floor - up.dot(ground.at[k]));
        down[Eigen::Index(k)] = std::max(0.0, -up.dot(ground.outward[k]));  // walls only become longer
        over_board = std::min(over_board, board.on_flat(ground.at[k]).z());
    }
    depths *= edge.sigma / edge.share;
    depths.array() += ends_over_board * std::max(0.0, over_board);
    depths = depths.cwiseProduct(down) / unseen_departs_more;
    ground.covariance += depths * depths.transpose();
}

}  // namespace

std::optional<Skin> closed_anew(const RawScan& raw, const Pass& pass, const ScanSettings& settings,
                                const ScanProgress& progress) {
    if (raw.content.centre_covariance) return std::nullopt;
    progress.begin("looking for what no camera saw");
    const TriangleMesh mesh = scaled(raw.content.mesh, pass.metres_per_unit);
    std::optional<AppClosing> closing = find_app_closing(mesh, pass.points, progress.control());
    if (!closing || closing->seen.size() < fewest_seen) return std::nullopt;
    Pass open = pass;
    const EdgeHeight& edge = closing->rim ? of_rim : of_cut;
    if (closing->walls_m > 0) {
        const Vec3& up = closing->up;
        const Vec3& near = closing->seen.positions.front();
        open.board = level_board(near + (closing->floor - up.dot(near)) * up, up);
    } else {
        open.board = board_below(*closing, edge);
        open.seen_to_rim = true;
        // Flanks that end so high tell of no hollow.
        if (open.kind == RoastKind::automatic) open.kind = RoastKind::roast;
    }
    open.separated.body = std::move(closing->seen);
    const double diagonal = pass.separated.diagonal;
    open.separated.surface = survey(open.separated.body, diagonal / survey_patches, progress.control());
    open.scale = ScanScale::of(diagonal, open.separated.surface);
    open.surface = make_sheet(open.separated.body, open.scale, open.board, progress.control());
    open.points = {};  // no board was seen under it
    open.rests_on = RestsOn::board;
    Skin skin = skin_of(open, settings, progress);
    skin.closed_by_app = true;
    if (skin.underside.ground.at.empty()) {
        // No guess was followed.
    } else if (closing->walls_m > 0) {
        const double apart = volume_moments(mesh).amount - volume_moments(skin.mesh).amount;
        shift_in_one_piece(skin.underside.ground, app_differs * apart / skin.underside.area_m2);
    } else {
        stretch_below(skin.underside.ground, *open.board, *closing, edge);
    }
    skin.notes.emplace_back(note::ClosedByApp{closing->share});
    return skin;
}

std::optional<Skin> with_holes_filled(const RawScan& raw, const Pass& pass, const ScanSettings& settings,
                                      const ScanProgress& progress) {
    if (pass.board || raw.content.mesh.triangles.empty() || pass.report.clutter > 0) return std::nullopt;
    if (pass.scale.noise > most_scatter * pass.separated.diagonal) return std::nullopt;
    progress.begin("filling holes");
    std::optional<FilledMesh> filled = fill_holes(raw.content.mesh, progress.control());
    if (!filled || filled->filled_share > most_filled || !check_solid(filled->mesh).ok()) return std::nullopt;
    Skin skin = kept(filled->mesh, {}, pass, settings, progress);
    skin.came_closed = filled->holes == 0;
    if (skin.came_closed) {
        skin.notes.emplace_back(note::CameClosed{});
    } else {
        skin.notes.emplace_back(note::HolesFilled{filled->holes});
    }
    for (std::size_t v = 0; v < skin.support.size(); ++v) {
        if (filled->at_filling[v]) skin.support[v] = 0;
    }
    return skin;
}

}  // namespace evenspit::scan
