// SPDX-License-Identifier: MIT
#include "scan/carrier.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numbers>

#include "scan/every_nth.h"
#include "scan/stand.h"

namespace evenspit::scan {

namespace {

// Lengths of kitchen things, common practice; shares from scans of known truth (tests/scan/scan_table).
constexpr double points_looked_at = 80000;
constexpr double around = 0.06;  // m beside the body: that far a carrier may stand out
constexpr double cell = 0.005;   // m
constexpr double least_height = 0.010, greatest_height = 0.09;  // of a carrier, m
constexpr double height_step = 0.002;
constexpr double layer = 0.010;    // a rack's wires, one across the other
constexpr double over = 0.015;     // what is so much higher belongs to the body
constexpr double roof = 0.010;     // something so much higher hides what is under it
constexpr double clear = 0.015;    // so much air over something, and it is not what is above
constexpr double goes_on = 0.010;  // over a rim: what goes on so far is the body
// Where a body lies: in a tin on its floor, a sheet and what crept under it; in a plate somewhere between its
// floor and its rim, in heights of the rim.
constexpr double rack_sigma = 0.002;  // of a rack's height: wires are thin, and the body sinks between them
constexpr double tin_floor = 0.002, tin_floor_sigma = 0.002;
constexpr double edge_width = 0.005;  // m, of a rim
constexpr double wall_under = 0.3;    // of what is seen of the edge: more under it, and it is a wall
constexpr double in_plate = 0.6, in_plate_sigma = 0.25;
constexpr double highest_plate = 0.045;  // m; deep ones
constexpr int beside = 2;                // cells from the body
constexpr double wires_spread = 0.005;   // m, standard deviation of how far out wires are seen
constexpr double rim_rises = 0.5;        // correlation of height with the way out
// The same, over the directions: rims of tins have −0.2 to 0, limbs that lie spread −0.7 to −0.45.
constexpr double rim_falls = -0.33;
constexpr std::size_t directions = 24;
constexpr double all_round = 0.65;  // share of the directions
// A plate's rim may be hidden by what hangs over it; higher up, limbs stand out in half the directions.
constexpr double low_rim = 0.045, all_round_low = 0.5;
constexpr double least_shown = 0.005;  // of the points there are: less may be a warped board or strays
constexpr double least_bare = 0.1;     // of what stands out: a body hangs over nearly all of its own edge
constexpr double in_layer = 0.5;       // of what stands out: more, and it is a rack
constexpr double gentle = 0.35;  // of what stands out: more cells that rise from it to the body, and it is
                                 // the body's own edge

// What stands over each square of the board, in layers.
class Columns {
  public:
    Columns(const std::vector<Vec3>& flat) {
        Box3 box;
        for (const Vec3& p : flat) box.extend(p);
        least_ = box.min().head<2>() - Vec2::Constant(6 * cell);
        width_ = int(box.sizes().x() / cell) + 13;
        depth_ = int(box.sizes().y() / cell) + 13;
        layers_.assign(std::size_t(width_) * std::size_t(depth_), 0);
        for (const Vec3& p : flat)
            layers_[at(column(p.x()), row(p.y()))] |= std::uint64_t{1} << layer_of(p.z());
    }
    // Whether anything lies between two heights within some squares of a place.
    [[nodiscard]] bool holds(const Vec3& p, int reach, double low, double high) const {
        std::uint64_t wanted = 0;
        for (int k = layer_of(low); k <= layer_of(high); ++k) wanted |= std::uint64_t{1} << k;
        const int i = column(p.x()), j = row(p.y());
        for (int dj = -reach; dj <= reach; ++dj) {
            for (int di = -reach; di <= reach; ++di) {
                if (di * di + dj * dj > reach * reach + 1) continue;
                const int k = i + di, l = j + dj;
                if (k >= 0 && l >= 0 && k < width_ && l < depth_ && (layers_[at(k, l)] & wanted) != 0)
                    return true;
            }
        }
        return false;
    }

  private:
    static constexpr double thick = 0.0025;  // m, of a layer; the last holds all that is higher
    [[nodiscard]] static int layer_of(double z) { return std::clamp(int(z / thick), 0, 63); }
    [[nodiscard]] int column(double x) const { return int(std::floor((x - least_.x()) / cell)); }
    [[nodiscard]] int row(double y) const { return int(std::floor((y - least_.y()) / cell)); }
    [[nodiscard]] std::size_t at(int i, int j) const {
        return std::size_t(j) * std::size_t(width_) + std::size_t(i);
    }
    Vec2 least_;
    int width_, depth_;
    std::vector<std::uint64_t> layers_;
};

std::size_t direction_of(const Vec2& from_middle) {
    const double turns = std::atan2(from_middle.y(), from_middle.x()) / (2 * std::numbers::pi) + 0.5;
    return std::min(directions - 1, std::size_t(turns * directions));
}

// How what is seen in one direction lies: how wide, and whether it rises outward.
class Stretch {
  public:
    void add(const Vec2& from_middle, double height) {
        n_ += 1;
        const Vec3 row(from_middle.x(), from_middle.y(), height);
        sums_ += row;
        squares_ += row * row.transpose();
        away_ += Vec3(from_middle.norm(), from_middle.squaredNorm(), from_middle.norm() * height);
    }
    [[nodiscard]] bool told() const { return n_ >= 8; }
    // Standard deviation across the way in which it stretches, as seen from above: a wall's is small,
    // whichever way it runs.
    [[nodiscard]] double spread() const {
        const Mat3 covariance = squares_ / n_ - sums_ * sums_.transpose() / (n_ * n_);
        const double half = 0.5 * (covariance(0, 0) + covariance(1, 1));
        const double apart = std::hypot(0.5 * (covariance(0, 0) - covariance(1, 1)), covariance(0, 1));
        return std::sqrt(std::max(0.0, half - apart));
    }
    [[nodiscard]] double rise() const {  // correlation
        const double mean = away_[0] / n_, height = sums_[2] / n_;
        const double across = away_[2] / n_ - mean * height;
        const double variances = (away_[1] / n_ - mean * mean) * (squares_(2, 2) / n_ - height * height);
        return across / std::sqrt(std::max(1e-18, variances));
    }

  private:
    double n_ = 0;
    Vec3 sums_ = Vec3::Zero(), away_ = Vec3::Zero();
    Mat3 squares_ = Mat3::Zero();
};

// Whether it is the wires of a rack: as wide as a finger and level; a wall is thin, and a rim rises outward.
bool level_and_wide(const std::array<Stretch, directions>& stretches) {
    int wide = 0, level = 0, all = 0;
    for (const Stretch& stretch : stretches) {
        if (!stretch.told()) continue;
        ++all;
        wide += stretch.spread() > wires_spread;
        level += std::abs(stretch.rise()) < rim_rises;
    }
    return 3 * all >= 2 * int(directions) && 2 * wide > all && 2 * level > all;
}

// Whether what stands out falls outward, as a body's own flanks and limbs do: rims are level or rise.
bool falls_outward(const std::array<Stretch, directions>& stretches) {
    double rise = 0;
    int all = 0;
    for (const Stretch& stretch : stretches) {
        if (!stretch.told()) continue;
        ++all;
        rise += stretch.rise();
    }
    return rise < rim_falls * all;
}

// Whether a rim slopes, as a plate's does: nothing stands under its edge. Under a tin's stands its wall.
bool slopes_outward(const std::vector<Vec3>& flat, const std::vector<Vec3>& open, const Vec2& middle,
                    double height) {
    std::array<std::vector<double>, directions> edge;
    for (const Vec3& p : open) {
        const Vec2 off = p.head<2>() - middle;
        if (p.z() > 0.8 * height && p.z() < height) edge[direction_of(off)].push_back(off.norm());
    }
    std::array<double, directions> reach{};
    for (std::size_t d = 0; d < directions; ++d) {
        if (edge[d].size() < 4) continue;
        const auto far = edge[d].begin() + std::ptrdiff_t(0.9 * double(edge[d].size() - 1));
        std::nth_element(edge[d].begin(), far, edge[d].end());
        reach[d] = *far;
    }
    std::array<double, directions> upper{}, lower{};
    for (const Vec3& p : flat) {
        const Vec2 off = p.head<2>() - middle;
        const std::size_t d = direction_of(off);
        if (!(reach[d] > 0) || std::abs(off.norm() - reach[d]) > edge_width) continue;
        upper[d] += p.z() > 0.7 * height && p.z() < height;
        lower[d] += p.z() > 0.35 * height && p.z() < 0.65 * height;
    }
    int all = 0, sloped = 0;
    for (std::size_t d = 0; d < directions; ++d) {
        all += upper[d] > 0;
        sloped += lower[d] < wall_under * upper[d];
    }
    return 2 * sloped > all;
}

// How high over the board the body lies on it.
void place_body_on(Carrier& carrier, const std::vector<Vec3>& flat, const std::vector<Vec3>& open) {
    if (carrier.kind == RestsOn::rack) {
        carrier.rests_at_m = carrier.height_m;
        carrier.rests_sigma_m = rack_sigma;
    } else if (slopes_outward(flat, open, carrier.middle, carrier.height_m)) {
        carrier.sloped = true;
        carrier.rests_at_m = in_plate * carrier.height_m;
        carrier.rests_sigma_m = in_plate_sigma * carrier.height_m;
    } else {
        carrier.rests_at_m = tin_floor;
        carrier.rests_sigma_m = tin_floor_sigma;
    }
}

// What stands out all round at one height: a rack, or the rim of a plate or a tin.
// \param certain whether what shows little of itself, or rises to the body as its own edge does, is left out
std::optional<Carrier> rack_or_rim(const std::vector<Vec3>& flat, double top, double noise, RestsOn told,
                                   bool certain, const StopControl& control) {
    const Columns columns(flat);
    Vec2 middle = Vec2::Zero();
    for (const Vec3& p : flat) middle += p.head<2>() / double(flat.size());
    // Low places that do not go on upward.
    std::vector<Vec3> open;
    for (const Vec3& p : flat) {
        if (p.z() < std::min(greatest_height, 0.6 * top) &&
            !columns.holds(p, 1, p.z() + roof, p.z() + roof + clear))
            open.push_back(p);
    }
    std::optional<Carrier> best;
    double most = certain ? least_shown * double(flat.size()) : 0;
    // Nothing of the board's own scatter is in the layer.
    for (double h = std::max(least_height, layer + 4 * noise); h < std::min(greatest_height, 0.5 * top);
         h += height_step) {
        control.check();
        std::array<int, directions> in_direction{};
        std::array<Stretch, directions> stretches;
        double in = 0, rising = 0, under = 0, heights_in = 0;
        double bare_in = 0, bare_under = 0;  // with nothing at all over them
        std::vector<double> seen_at;
        for (const Vec3& p : open) {
            if (p.z() > h + layer / 5) {
                rising += p.z() < h + over;
                continue;
            }
            if (columns.holds(p, beside, h + over, h + over + clear)) continue;
            const bool bare = !columns.holds(p, beside, h + over, top);
            ++under;
            bare_under += bare;
            if (p.z() < h - layer) continue;
            ++in;
            bare_in += bare;
            heights_in += p.z();
            seen_at.push_back(p.z());
            const Vec2 off = p.head<2>() - middle;
            const std::size_t d = direction_of(off);
            ++in_direction[d];
            if (bare) stretches[d].add(off, p.z());
        }
        const auto shown =
            std::count_if(in_direction.begin(), in_direction.end(), [](int n) { return n >= 4; });
        if (in <= most || double(shown) < (h < low_rim ? all_round_low : all_round) * directions) continue;
        if (certain && (rising > gentle * under || bare_in < least_bare * in)) continue;
        // What tails off upward is a warped board's.
        if (heights_in < (h - layer / 2) * in) continue;
        const bool rack = bare_in > in_layer * bare_under && level_and_wide(stretches);
        if (told == RestsOn::rack && !rack) continue;
        if (certain && !rack && falls_outward(stretches)) continue;
        most = in;
        const RestsOn kind = told != RestsOn::automatic ? told : rack ? RestsOn::rack : RestsOn::tin;
        // Wires are seen from above and from the side: a quarter of what is seen lies over their upper edge.
        const auto upper = seen_at.begin() + std::ptrdiff_t(0.75 * double(seen_at.size() - 1));
        std::nth_element(seen_at.begin(), upper, seen_at.end());
        best = Carrier{kind, kind == RestsOn::rack ? *upper : h + layer / 5, 0, 0, middle, 0, false};
    }
    if (best) place_body_on(*best, flat, open);
    // What slopes up to more than any plate does is the limbs of a bird that lies spread, unless one is told
    // otherwise.
    if (best && certain && told == RestsOn::automatic && best->sloped && best->height_m > highest_plate)
        return std::nullopt;
    return best;
}

}  // namespace

std::vector<std::size_t> not_of(const Carrier& carrier, const PointSet& points, const Board& board,
                                const StopControl& control) {
    EveryNthCheck now_and_then(control, 1 << 14);
    std::vector<Vec3> flat;
    for (const Vec3& p : points.positions) {
        now_and_then.step();
        flat.push_back(board.on_flat(p));
    }
    const Columns columns(flat);
    const double level = carrier.height_m + std::max(0.002, 3 * board.noise);
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < flat.size(); ++i) {
        now_and_then.step();
        // Of an upright rim goes what stands beside the body, of a stand what is under it. A plate slopes up
        // to the body: nothing that low can be told from it.
        const bool beside_it = carrier.kind == RestsOn::stand
                                   ? (flat[i].head<2>() - carrier.middle).norm() <
                                         1.15 * carrier.radius_m + level - carrier.height_m
                                   : !columns.holds(flat[i], beside, level, level + goes_on);
        const bool taken = flat[i].z() < level && (carrier.sloped || beside_it);
        if (!taken) kept.push_back(i);
    }
    return kept;
}

std::optional<Carrier> find_carrier(const PointSet& body, const PointSet& all, const Board& board,
                                    RestsOn told, const StopControl& control) {
    if (told == RestsOn::board || body.empty()) return std::nullopt;
    EveryNthCheck now_and_then(control, 1 << 14);
    std::vector<Vec3> flat;
    Box3 box;
    for (const Vec3& p : every_nth(body.positions, points_looked_at)) {
        now_and_then.step();
        flat.push_back(board.on_flat(p));
        box.extend(flat.back());
    }
    const double top = box.max().z();
    // What stands apart from the body counts as well: wires, rims, and a stand that the body hangs over.
    std::vector<Vec3> scene, ground;
    for (const Vec3& p : every_nth(all.positions, 4 * points_looked_at)) {
        now_and_then.step();
        const Vec3 q = board.on_flat(p);
        const Vec3 beyond = (q - box.center()).cwiseAbs() - 0.5 * box.sizes();
        if (std::max(beyond.x(), beyond.y()) > around) continue;
        if (q.z() > 4 * board.noise && q.z() < top) scene.push_back(q);
        if (std::abs(q.z()) < 3 * board.noise) ground.push_back(q);
    }
    if (told == RestsOn::stand || told == RestsOn::automatic) {
        const std::optional<Stand> found = find_stand(flat, scene, ground, board.noise, control);
        if (found) {
            return Carrier{RestsOn::stand,
                           found->height_m,
                           found->height_m,
                           found->height_sigma_m,
                           found->middle,
                           found->radius_m,
                           false};
        }
        if (told == RestsOn::stand) return std::nullopt;
    }
    // Who is told what it is looks where it would look anyway, and only then at what is less certain.
    std::optional<Carrier> found = rack_or_rim(scene, top, board.noise, told, true, control);
    if (!found && told != RestsOn::automatic)
        found = rack_or_rim(scene, top, board.noise, told, false, control);
    return found;
}

}  // namespace evenspit::scan
