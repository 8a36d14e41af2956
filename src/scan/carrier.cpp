// SPDX-License-Identifier: MIT
#include "scan/carrier.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
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
constexpr double layer = 0.010;         // a rack's wires, one across the other
constexpr double over = 0.015;          // what is so much higher belongs to the body
constexpr double roof = 0.010;          // something so much higher hides what is under it
constexpr int beside = 2;               // cells from the body
constexpr double wires_spread = 0.006;  // m, standard deviation of how far out wires are seen
constexpr double rim_rises = 0.5;       // correlation of height with the way out
constexpr std::size_t directions = 24;
constexpr double all_round = 0.65;    // share of the directions
constexpr double least_shown = 0.01;  // of the points there are: less may be a warped board or strays
constexpr double in_layer = 0.5;      // of what stands out: more, and it is a rack
constexpr double gentle = 0.35;  // of what stands out: more cells that rise from it to the body, and it is
                                 // the body's own edge

class Heights {
  public:
    Heights(const std::vector<Vec3>& flat) {
        Box3 box;
        for (const Vec3& p : flat) box.extend(p);
        least_ = box.min().head<2>() - Vec2::Constant(6 * cell);
        width_ = int(box.sizes().x() / cell) + 13;
        depth_ = int(box.sizes().y() / cell) + 13;
        most_.assign(std::size_t(width_) * std::size_t(depth_), -1.0);
        for (const Vec3& p : flat) {
            double& most = most_[at(column(p.x()), row(p.y()))];
            most = std::max(most, p.z());
        }
    }
    [[nodiscard]] int column(double x) const { return int(std::floor((x - least_.x()) / cell)); }
    [[nodiscard]] int row(double y) const { return int(std::floor((y - least_.y()) / cell)); }
    // The highest point within some cells of a place; −1 where there is none.
    [[nodiscard]] double near(const Vec3& p, int reach) const {
        double most = -1;
        const int i = column(p.x()), j = row(p.y());
        for (int dj = -reach; dj <= reach; ++dj) {
            for (int di = -reach; di <= reach; ++di) {
                if (di * di + dj * dj > reach * reach + 1) continue;
                const int k = i + di, l = j + dj;
                if (k >= 0 && l >= 0 && k < width_ && l < depth_) most = std::max(most, most_[at(k, l)]);
            }
        }
        return most;
    }

  private:
    [[nodiscard]] std::size_t at(int i, int j) const {
        return std::size_t(j) * std::size_t(width_) + std::size_t(i);
    }
    Vec2 least_;
    int width_, depth_;
    std::vector<double> most_;
};

std::size_t direction_of(const Vec2& from_middle) {
    const double turns = std::atan2(from_middle.y(), from_middle.x()) / (2 * std::numbers::pi) + 0.5;
    return std::min(directions - 1, std::size_t(turns * directions));
}

// How what is seen in one direction lies: how far apart, and whether it rises outward.
class Stretch {
  public:
    void add(double away, double height) {
        n_ += 1;
        sums_ += Vec2(away, height);
        squares_ += Vec3(away * away, height * height, away * height);
    }
    [[nodiscard]] bool told() const { return n_ >= 8; }
    [[nodiscard]] double spread() const { return std::sqrt(std::max(0.0, variance(0))); }
    [[nodiscard]] double rise() const {  // correlation
        const double across = squares_.z() / n_ - sums_.x() * sums_.y() / (n_ * n_);
        return across / std::sqrt(std::max(1e-18, variance(0) * variance(1)));
    }

  private:
    [[nodiscard]] double variance(Eigen::Index k) const {
        return squares_[k] / n_ - sums_[k] * sums_[k] / (n_ * n_);
    }
    double n_ = 0;
    Vec2 sums_ = Vec2::Zero();
    Vec3 squares_ = Vec3::Zero();
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

// What stands out all round at one height: a rack, or the rim of a plate or a tin.
std::optional<Carrier> rack_or_rim(const std::vector<Vec3>& flat, double top, double noise, RestsOn told,
                                   const StopControl& control) {
    const Heights heights(flat);
    Vec2 middle = Vec2::Zero();
    for (const Vec3& p : flat) middle += p.head<2>() / double(flat.size());
    // Low places with nothing over them.
    std::vector<Vec3> open;
    for (const Vec3& p : flat) {
        if (p.z() < std::min(greatest_height, 0.6 * top) && heights.near(p, 1) < p.z() + roof)
            open.push_back(p);
    }
    std::optional<Carrier> best;
    double most = told == RestsOn::automatic ? least_shown * double(flat.size()) : 0;
    // Nothing of the board's own scatter is in the layer.
    for (double h = std::max(least_height, layer + 4 * noise); h < std::min(greatest_height, 0.5 * top);
         h += height_step) {
        control.check();
        std::array<int, directions> in_direction{};
        std::array<Stretch, directions> stretches;
        double in = 0, rising = 0, under = 0, heights_in = 0;
        std::vector<double> seen_at;
        for (const Vec3& p : open) {
            if (p.z() > h + layer / 5) {
                rising += p.z() < h + over;
                continue;
            }
            if (heights.near(p, beside) > h + over) continue;
            ++under;
            if (p.z() < h - layer) continue;
            ++in;
            heights_in += p.z();
            seen_at.push_back(p.z());
            const Vec2 off = p.head<2>() - middle;
            const std::size_t d = direction_of(off);
            ++in_direction[d];
            stretches[d].add(off.norm(), p.z());
        }
        const auto shown =
            std::count_if(in_direction.begin(), in_direction.end(), [](int n) { return n >= 4; });
        if (in <= most || double(shown) < all_round * directions) continue;
        if (told == RestsOn::automatic && rising > gentle * under) continue;
        // What tails off upward is a warped board's.
        if (heights_in < (h - layer / 2) * in) continue;
        most = in;
        const bool rack = in > in_layer * under && level_and_wide(stretches);
        const RestsOn kind = told != RestsOn::automatic ? told : rack ? RestsOn::rack : RestsOn::tin;
        // Wires are seen from above and from the side: a quarter of what is seen lies over their upper edge.
        const auto upper = seen_at.begin() + std::ptrdiff_t(0.75 * double(seen_at.size() - 1));
        std::nth_element(seen_at.begin(), upper, seen_at.end());
        best = Carrier{kind, kind == RestsOn::rack ? *upper : h + layer / 5, 0, middle, 0};
    }
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
    const Heights heights(flat);
    const double level = carrier.height_m + std::max(0.002, 3 * board.noise);
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < flat.size(); ++i) {
        now_and_then.step();
        // Of a rim goes what stands beside the body, of a stand what is under it.
        const bool taken =
            flat[i].z() < level &&
            (carrier.kind == RestsOn::stand ? (flat[i].head<2>() - carrier.middle).norm() <
                                                  1.15 * carrier.radius_m + level - carrier.height_m
                                            : heights.near(flat[i], beside) < carrier.height_m + over);
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
        if (found)
            return Carrier{RestsOn::stand, found->height_m, found->height_sigma_m, found->middle,
                           found->radius_m};
        if (told == RestsOn::stand) return std::nullopt;
    }
    return rack_or_rim(scene, top, board.noise, told, control);
}

}  // namespace evenspit::scan
