// SPDX-License-Identifier: MIT
#include "scan/stand.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <Eigen/Cholesky>

#include "scan/every_nth.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

// Lengths of kitchen things, common practice; shares from scans of known truth (tests/scan/scan_table).
constexpr double side = 0.005;                    // m, of the squares of a plan
constexpr std::size_t sectors = 24;               // round the body's middle
constexpr double slab = 0.004;                    // m
constexpr double lowest = 0.006, highest = 0.12;  // m, of what is looked at
constexpr double least_height = 0.015;            // m, of a stand over the lowest that is looked at
constexpr double below_top = 0.6;                 // of the body's height
constexpr double narrower = 1.4;                  // the body is so much wider
constexpr double straight = 0.07;                 // of the radius
constexpr double jump = 1.3;                      // what is seen over it is so much wider
constexpr int most_between = 3;      // slabs that hold some of the stand and some of what is on it
constexpr double top_sigma = 0.003;  // m, of the height told, over twenty scans of known truth
constexpr double beside = 0.15;      // of the radius: how far off its middle what is seen of its side lies
constexpr std::size_t least_sectors = 7, least_in_sector = 3;
constexpr double board_under = 0.4;  // of the sectors, must show the board under the body

double value_at(std::vector<double>& values, double share) {
    const auto at = values.begin() + std::ptrdiff_t(share * double(values.size() - 1) + 0.5);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

// How far from the middle something lies, sector by sector; 0 where too little was seen.
using Radii = std::array<double, sectors>;

std::size_t sector_of(const Vec2& off) {
    const double turns = std::atan2(off.y(), off.x()) / (2 * std::numbers::pi) + 0.5;
    return std::min(sectors - 1, std::size_t(turns * sectors));
}

// What a body covers, seen from above.
class Outline {
  public:
    explicit Outline(const std::vector<Vec3>& body) {
        Box3 box;
        for (const Vec3& p : body) box.extend(p);
        constexpr int margin = 6;
        least_ = box.min().head<2>() - Vec2::Constant(margin * side);
        width_ = int(box.sizes().x() / side) + 2 * margin + 1;
        depth_ = int(box.sizes().y() / side) + 2 * margin + 1;
        covered_.assign(std::size_t(width_) * std::size_t(depth_), false);
        for (const Vec3& p : body) covered_[at(column(p.x()), row(p.y()))] = true;
        for (int k = 0; k < gap; ++k) step(true);
        for (int k = 0; k < gap; ++k) step(false);
        inner_ = covered_;
        std::swap(inner_, covered_);
        for (int k = 0; k < inset; ++k) step(false);
        std::swap(inner_, covered_);
        double n = 0;
        for (int j = 0; j < depth_; ++j) {
            for (int i = 0; i < width_; ++i) {
                if (!covered_[at(i, j)]) continue;
                middle_ += least_ + side * Vec2(i + 0.5, j + 0.5);
                ++n;
            }
        }
        middle_ /= std::max(1.0, n);
        for (int j = 0; j < depth_; ++j) {
            for (int i = 0; i < width_; ++i) {
                if (!covered_[at(i, j)]) continue;
                const Vec2 off = least_ + side * Vec2(i + 0.5, j + 0.5) - middle_;
                double& reach = reach_[sector_of(off)];
                reach = std::max(reach, off.norm());
            }
        }
    }
    [[nodiscard]] const Vec2& middle() const { return middle_; }
    [[nodiscard]] const Radii& reach() const { return reach_; }  // how far it goes from the middle
    // Whether a place is under the body, clear of its edge.
    [[nodiscard]] bool well_under(const Vec3& p) const {
        const int i = column(p.x()), j = row(p.y());
        return i >= 0 && j >= 0 && i < width_ && j < depth_ && inner_[at(i, j)];
    }

  private:
    static constexpr int gap = 2, inset = 2;  // squares
    [[nodiscard]] int column(double x) const { return int(std::floor((x - least_.x()) / side)); }
    [[nodiscard]] int row(double y) const { return int(std::floor((y - least_.y()) / side)); }
    [[nodiscard]] std::size_t at(int i, int j) const {
        return std::size_t(j) * std::size_t(width_) + std::size_t(i);
    }
    void step(bool grow) {
        std::vector<bool> next = covered_;
        for (int j = 1; j + 1 < depth_; ++j) {
            for (int i = 1; i + 1 < width_; ++i) {
                for (const std::size_t k : {at(i - 1, j), at(i + 1, j), at(i, j - 1), at(i, j + 1)}) {
                    if (covered_[k] == grow) next[at(i, j)] = grow;
                }
            }
        }
        covered_ = std::move(next);
    }
    Vec2 least_, middle_ = Vec2::Zero();
    int width_, depth_;
    Radii reach_{};
    std::vector<bool> covered_, inner_;
};

Radii radii_between(const std::vector<Vec3>& under, const Vec2& middle, double low, double high) {
    std::array<std::vector<double>, sectors> seen;
    for (const Vec3& p : under) {
        if (p.z() < low || p.z() >= high) continue;
        const Vec2 off = p.head<2>() - middle;
        seen[sector_of(off)].push_back(off.norm());
    }
    Radii radii{};
    for (std::size_t s = 0; s < sectors; ++s) {
        if (seen[s].size() >= least_in_sector) radii[s] = value_at(seen[s], 0.5);
    }
    return radii;
}

double middle_of(const Radii& radii) {
    std::vector<double> told;
    for (const double r : radii) {
        if (r > 0) told.push_back(r);
    }
    return told.size() < least_sectors ? 0 : value_at(told, 0.5);
}

Vec2 direction_of(std::size_t sector) {
    const double angle = ((double(sector) + 0.5) / sectors - 0.5) * 2 * std::numbers::pi;
    return {std::cos(angle), std::sin(angle)};
}

// Middle of what lies all round another middle: by least squares, a circle's radii are its own and its
// offset's part in each direction.
Vec2 middle_within(const Vec2& middle, const Radii& radii) {
    Mat3 matrix = Mat3::Zero();
    Vec3 right = Vec3::Zero();
    for (std::size_t s = 0; s < sectors; ++s) {
        if (!(radii[s] > 0)) continue;
        const Vec2 u = direction_of(s);
        const Vec3 row(1, u.x(), u.y());
        matrix += row * row.transpose();
        right += radii[s] * row;
    }
    return middle + matrix.ldlt().solve(right).tail<2>();
}

// How far the radii over each other, sector by sector, are those below; 0 where too few sectors tell.
double widening(const Radii& here, const Radii& base, std::size_t least) {
    std::vector<double> ratios;
    for (std::size_t s = 0; s < sectors; ++s) {
        if (base[s] > 0 && here[s] > 0) ratios.push_back(here[s] / base[s]);
    }
    return ratios.size() < least ? 0 : value_at(ratios, 0.5);
}

// Up to where what stands there is as wide as at its foot; 0 where it does not end, or goes on wider little
// by little, as a body does.
double straight_up_to(const std::vector<Vec3>& under, const Vec2& middle, const Radii& base, double first,
                      double last, const StopControl& control) {
    double height = first + 2 * slab, z = height;
    for (; z < last; z += slab) {
        control.check();
        const double wide = widening(radii_between(under, middle, z, z + slab), base, least_sectors / 2);
        if (!(std::abs(wide - 1) <= straight)) break;
        height = z + slab;
    }
    if (z >= last) return 0;
    int between = 0;
    for (; z < last; z += slab) {
        control.check();
        const double wide = widening(radii_between(under, middle, z, z + slab), base, least_sectors / 2);
        if (wide > jump) return height;
        between += wide > 0;
        if (between > most_between) return 0;
    }
    return 0;
}

}  // namespace

std::optional<Stand> find_stand(const std::vector<Vec3>& body, const std::vector<Vec3>& scene,
                                const std::vector<Vec3>& board, double noise, const StopControl& control) {
    const Outline outline(body);
    double top = 0;
    for (const Vec3& p : body) top = std::max(top, p.z());
    const double first = std::max(lowest, 4 * noise), last = std::min(highest, below_top * top);
    std::vector<Vec3> under;
    EveryNthCheck now_and_then(control, 1 << 14);
    for (const Vec3& p : scene) {
        now_and_then.step();
        if (p.z() >= first && p.z() < last && outline.well_under(p)) under.push_back(p);
    }
    const Vec2& middle = outline.middle();
    const Radii base = radii_between(under, middle, first, first + 2 * slab);
    const double radius = middle_of(base);
    if (!(radius > 0) || widening(outline.reach(), base, least_sectors) < narrower) return std::nullopt;
    std::array<bool, sectors> shows{};
    for (const Vec3& p : board) {
        const Vec2 off = p.head<2>() - middle;
        if (outline.well_under(p) && off.norm() > radius) shows[sector_of(off)] = true;
    }
    const auto shown = double(std::count(shows.begin(), shows.end(), true));
    if (shown < board_under * sectors) return std::nullopt;

    const double height = straight_up_to(under, middle, base, first, last, control);
    if (height < first + least_height) return std::nullopt;

    // Its upper edge: what lies on it hides most of it, noise lifts the highest points.
    std::array<std::vector<double>, sectors> seen;
    for (const Vec3& p : under) {
        const Vec2 off = p.head<2>() - middle;
        const std::size_t s = sector_of(off);
        if (!(base[s] > 0) || p.z() > height + slab || std::abs(off.norm() / base[s] - 1) > beside) continue;
        seen[s].push_back(p.z());
    }
    std::vector<double> tops;
    for (std::vector<double>& heights : seen) {
        if (heights.size() >= 10) tops.push_back(value_at(heights, 0.98));
    }
    if (tops.size() < least_sectors) return std::nullopt;
    const double highest_seen = *std::max_element(tops.begin(), tops.end());
    Stand stand{middle_within(middle, base), 0, highest_seen - noise / 2, top_sigma};
    for (std::size_t s = 0; s < sectors; ++s) {
        if (base[s] > 0)
            stand.radius_m =
                std::max(stand.radius_m, (middle + base[s] * direction_of(s) - stand.middle).norm());
    }
    return stand;
}

}  // namespace evenspit::scan
