// SPDX-License-Identifier: MIT
#include "scan/round_guess.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Geometry>

#include "scan/every_nth.h"

namespace evenspit::scan {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double looks_up = 0.3;  // vertical part of a normal: such discs say little of the underside
constexpr std::size_t least_discs = 30, most_discs = 1500;
constexpr int steps = 40;
// What bodies are like before anything is seen; common practice, no source. Wide: flanks decide.
constexpr double usual_squareness = 2.4, squareness_spread = 0.6;
constexpr double least_squareness = 1.6, greatest_squareness = 8;
// Likeliest over roasts of known truth, pressed flat or not; and over birds that lie spread, even seeds.
constexpr double pressed_share = 0.1, pressed_of_spread = 0.5;
constexpr double taper_spread = 0.3;
constexpr double tilt_spread = 0.08;   // rad
constexpr double place_weight = 200;   // discs that tell something new; what more there are repeat it
constexpr double robust_width = 0.05;  // of the body's size
constexpr double fit_sigma = 0.01;     // of the body's size: how far a body is from any superellipsoid
// A real body lies on its highest bumps; the smooth one is off the board by about the error of such fits. In
// sizes of the body.
constexpr double usual_stand_off = 0.005, stand_off_spread = 0.01;

// The numbers of a fit: middle x, y, z; logarithms of the half length, half width and upper half height; yaw,
// pitch, roll; squareness of the ends; taper; how far the lower pole stands off the board; squareness of
// sections. All lengths in sizes of the body, in a frame with its middle over the origin and z = 0 on the
// board.
constexpr int count = 13;
using Numbers = Eigen::Matrix<double, count, 1>;
struct Prior {
    int number;
    double usual, spread;
};
constexpr std::array<Prior, 6> priors{{{7, 0, tilt_spread},
                                       {8, 0, tilt_spread},
                                       {9, usual_squareness, squareness_spread},
                                       {10, 0, taper_spread},
                                       {11, usual_stand_off, stand_off_spread},
                                       {12, usual_squareness, squareness_spread}}};
// Of a body that lies nobody knows where, instead of the stand-off: the logarithm of the lower half height to
// the upper one.
constexpr Prior usual_depth{11, -0.29, 0.3};
// The other numbers may be anything; so far a body that was seen could be off, in the same units.
constexpr double loose = 0.1;

class Round {
  public:
    Round(const Numbers& n, bool on_board)
        : middle_(n[0], n[1], std::max(n[2], 0.02)),
          half_(std::exp(n[3]), std::exp(n[4]), std::exp(n[5])),
          ends_(std::clamp(n[9], least_squareness, greatest_squareness)),
          section_(std::clamp(n[12], least_squareness, greatest_squareness)),
          taper_(std::clamp(n[10], -0.8, 0.8)) {
        turn_ = (Eigen::AngleAxisd(n[6], Vec3::UnitZ()) * Eigen::AngleAxisd(n[7], Vec3::UnitY()) *
                 Eigen::AngleAxisd(n[8], Vec3::UnitX()))
                    .toRotationMatrix();
        if (!on_board) {
            depth_ = half_.z() * std::exp(std::clamp(n[11], -1.5, 1.0));
            return;
        }
        // As deep below the middle as makes its lowest place lie on the board. How far a superellipsoid
        // reaches in a direction is the dual of its norm: each exponent e gives way to e / (e − 1).
        const double e = ends_ / (ends_ - 1), c = section_ / (section_ - 1);
        const Vec3 down = turn_.row(2).cwiseAbs();
        const double height = std::max(middle_.z() - std::clamp(n[11], -0.02, 0.05), 0.01);
        const double across = std::pow(height, e) - std::pow(half_.x() * down.x(), e);
        const double rest = across > 0 ? std::pow(across, c / e) - std::pow(half_.y() * down.y(), c) : 0.0;
        depth_ = std::max(rest > 0 ? std::pow(rest, 1 / c) / down.z() : 0, 0.2 * middle_.z());
    }

    // How far a place is outside, along the ray from the middle.
    [[nodiscard]] double off(const Vec3& place) const {
        const Vec3 p = turn_.transpose() * (place - middle_);
        const double along = p.x() / half_.x();
        const double thickness = 1 - taper_ * std::clamp(along, -1.2, 1.2);
        const double section =
            std::pow(std::abs(p.y() / (half_.y() * thickness)), section_) +
            std::pow(std::abs(p.z() / ((p.z() < 0 ? depth_ : half_.z()) * thickness)), section_);
        const double rho =
            std::pow(std::pow(std::abs(along), ends_) + std::pow(section, ends_ / section_), 1 / ends_);
        return rho > 1e-9 ? p.norm() * (1 - 1 / rho) : -std::min(half_.minCoeff(), depth_);
    }

  private:
    Vec3 middle_, half_;
    double depth_ = 0, ends_, section_, taper_;
    Mat3 turn_;
};

// What is usual of a body that lies on the board, or of one that lies nobody knows where.
std::array<Prior, priors.size()> priors_of(bool on_board) {
    std::array<Prior, priors.size()> all = priors;
    for (Prior& prior : all) {
        if (prior.number == usual_depth.number && !on_board) prior = usual_depth;
    }
    return all;
}

double cost(const Numbers& n, const std::vector<Vec3>& places, double weight, bool on_board) {
    const Round round(n, on_board);
    double sum = 0;
    for (const Prior& prior : priors_of(on_board))
        sum += std::pow((n[prior.number] - prior.usual) / prior.spread, 2);
    for (const Vec3& p : places) {
        const double r = round.off(p), t = r / robust_width;
        sum += weight * r * r / (1 + t * t);
    }
    return sum;
}

Numbers fitted(Numbers n, const std::vector<Vec3>& places, bool on_board, const StopControl& control) {
    const double weight =
        std::min(place_weight, double(places.size())) / double(places.size()) / (fit_sigma * fit_sigma);
    double damping = 1e-3;
    double before = cost(n, places, weight, on_board);
    for (int step = 0; step < steps && damping < 1e6; ++step) {
        control.check();
        Eigen::Matrix<double, count, count> matrix = Eigen::Matrix<double, count, count>::Zero();
        Numbers right = Numbers::Zero();
        constexpr double nudge = 1e-5;
        std::vector<Round> nudged;
        nudged.reserve(count);
        for (int k = 0; k < count; ++k) nudged.emplace_back(n + nudge * Numbers::Unit(k), on_board);
        const Round base(n, on_board);
        for (const Vec3& p : places) {
            const double r = base.off(p), t = 1 + (r / robust_width) * (r / robust_width);
            Numbers row;
            for (int k = 0; k < count; ++k) row[k] = (nudged[std::size_t(k)].off(p) - r) / nudge;
            const double w = weight / (t * t);
            matrix += w * row * row.transpose();
            right -= w * r * row;
        }
        for (const Prior& prior : priors_of(on_board)) {
            const double w = 1 / (prior.spread * prior.spread);
            matrix(prior.number, prior.number) += w;
            right[prior.number] -= w * (n[prior.number] - prior.usual);
        }
        matrix.diagonal() *= 1 + damping;
        matrix.diagonal().array() += 1e-9;
        const Numbers next = n + matrix.ldlt().solve(right);
        const double after = next.allFinite() ? cost(next, places, weight, on_board) : infinity;
        if (after < before) {
            n = next;
            before = after;
            damping = std::max(damping / 5, 1e-9);
        } else {
            damping *= 8;
        }
    }
    return n;
}

}  // namespace

SkinGuess round_guess(const Sheet& sheet, const Board& board, const StopControl& control) {
    std::vector<Vec3> places;
    Box3 box, all;
    for (std::size_t s = 0; s < sheet.size(); ++s) {
        if (sheet.invented[s]) continue;
        const Vec3 flat = board.on_flat(sheet.positions[s]);
        all.extend(flat);
        if (board.to_board.linear().row(2).dot(sheet.normals[s]) > looks_up) continue;
        places.push_back(flat);
        box.extend(flat);
    }
    if (places.size() < least_discs) return {"round", [](const Vec3&) { return infinity; }, {}, {}};
    const double size = all.diagonal().norm();
    const Vec3 origin(box.center().x(), box.center().y(), 0);
    Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
    for (Vec3& p : places) {
        p = (p - origin) / size;
        spread += p.head<2>() * p.head<2>().transpose();
    }
    const std::vector<Vec3> few = every_nth(places, double(most_discs));

    const double yaw = 0.5 * std::atan2(2 * spread(0, 1), spread(0, 0) - spread(1, 1));
    // Of a body on a board, all of its height; else what was seen of it.
    const double low = board.carries ? 0 : all.min().z() / size, top = all.max().z() / size;
    const Vec3 half = 0.5 * box.sizes() / size;
    const double girth = half.head<2>().norm() / std::sqrt(2.0);
    Numbers start;
    start << 0, 0, 0.5 * (low + top), std::log(girth * 1.2), std::log(girth / 1.2),
        std::log(0.5 * (top - low)), yaw, 0, 0, usual_squareness, 0,
        board.carries ? usual_stand_off : usual_depth.usual, usual_squareness;
    const Numbers found = fitted(start, few, board.carries, control);
    Numbers spread_of = Numbers::Constant(loose), usual = Numbers::Zero();
    for (const Prior& prior : priors_of(board.carries)) {
        spread_of[prior.number] = prior.spread;
        usual[prior.number] = (prior.usual - found[prior.number]) / prior.spread;
    }
    constexpr double nudge = 1e-3;  // of a spread
    const Round round(found, board.carries);
    std::vector<Round> nudged;
    nudged.reserve(count);
    for (int k = 0; k < count; ++k)
        nudged.emplace_back(found + nudge * spread_of[k] * Numbers::Unit(k), board.carries);
    const auto field = [round, origin, size](const Vec3& place) {
        return size * round.off((place - origin) / size);
    };
    const auto changes = [round, nudged, origin, size](const Vec3& place) {
        const Vec3 p = (place - origin) / size;
        const double off = round.off(p);
        std::vector<double> grown;
        grown.reserve(nudged.size());
        for (const Round& other : nudged) grown.push_back(size * (other.off(p) - off) / nudge);
        return grown;
    };
    return {"round",
            field,
            changes,
            {usual.begin(), usual.end()},
            board.carries,
            board.height_sigma,
            [](double error_m) { return error_m > wide_of_guess_m ? pressed_of_spread : pressed_share; }};
}

}  // namespace evenspit::scan
