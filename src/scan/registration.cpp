// SPDX-License-Identifier: MIT
#include "scan/registration.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <limits>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <string>

#include <Eigen/Cholesky>

#include "geometry/bvh.h"
#include "geometry/moments.h"
#include "scan/every_nth.h"
#include "scan/nearest.h"
#include "scan/scan_library.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr int nodes_across = 40;  // of the distance grid, along the body's longest side
constexpr int turns = 360;        // to start from; neighbours are some 40° apart
constexpr int coarse_steps = 12;
constexpr double coarse_points = 250;
constexpr std::size_t refined = 6;        // of the coarse fits, at least
constexpr std::size_t most_refined = 24;  // and at most,
constexpr double as_cheap = 1.25;         // as long as they cost no more than this, to the best
constexpr double as_good = 0.7;           // merit of a fine fit, to the best
// Of the fine fit: the width at which pairs count, in the body's size, and what is left of it from one step
// to the next until it is the finest; there so many steps.
constexpr double widest = 0.06, narrows = 0.75;
constexpr int steps_at_the_finest = 20;
constexpr std::size_t fine_points = 4000;
constexpr double enough_overlap = 0.5;  // more makes a fit no likelier
constexpr double same_turn_deg = 15;    // closer fits are one and the same

using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;

// Signed distance from a closed mesh on a grid round it, linear between nodes.
class DistanceGrid {
  public:
    DistanceGrid(const TriangleMesh& mesh, const StopControl& control) {
        const SolidQueries solid(mesh);
        Box3 box = bounds(mesh);
        const Vec3 margin = 0.35 * box.sizes();
        box.extend(box.min() - margin);
        box.extend(box.max() + margin);
        side_ = box.sizes().maxCoeff() / nodes_across;
        origin_ = box.min();
        for (int k = 0; k < 3; ++k) n_[std::size_t(k)] = int(std::ceil(box.sizes()[k] / side_)) + 1;
        values_.resize(std::size_t(n_[0]) * std::size_t(n_[1]) * std::size_t(n_[2]));
        stoppable_for(control, values_.size(), [&](std::size_t first, std::size_t last) {
            for (std::size_t v = first; v < last; ++v) {
                const auto i = int(v % std::size_t(n_[0])),
                           j = int(v / std::size_t(n_[0]) % std::size_t(n_[1]));
                const auto k = int(v / (std::size_t(n_[0]) * std::size_t(n_[1])));
                const Vec3 p = origin_ + side_ * Vec3(i, j, k);
                const double distance = solid.closest(p).distance;
                values_[v] = float(solid.contains(p) ? -distance : distance);
            }
        });
    }

    // Distance at a place and its gradient; outside the grid, that of the nearest place on its border.
    [[nodiscard]] double at(const Vec3& place, Vec3& gradient) const {
        std::array<int, 3> low{};
        Vec3 t;
        for (int k = 0; k < 3; ++k) {
            const double x = std::clamp((place[k] - origin_[k]) / side_, 0.0, n_[std::size_t(k)] - 1.001);
            low[std::size_t(k)] = int(x);
            t[k] = x - low[std::size_t(k)];
        }
        double sum = 0;
        gradient.setZero();
        for (int c = 0; c < 8; ++c) {
            const int x = c & 1, y = c >> 1 & 1, z = c >> 2 & 1;
            const double value =
                double(values_[std::size_t(low[0] + x) +
                               std::size_t(n_[0]) *
                                   (std::size_t(low[1] + y) + std::size_t(n_[1]) * std::size_t(low[2] + z))]);
            const double wx = x ? t.x() : 1 - t.x(), wy = y ? t.y() : 1 - t.y(), wz = z ? t.z() : 1 - t.z();
            sum += value * wx * wy * wz;
            gradient += value * Vec3((x ? 1 : -1) * wy * wz, (y ? 1 : -1) * wx * wz, (z ? 1 : -1) * wx * wy);
        }
        gradient /= side_;
        return sum;
    }

  private:
    Vec3 origin_;
    double side_ = 1;
    std::array<int, 3> n_{};
    std::vector<float> values_;
};

Pose about(const Vec3& pivot, const Vec6& move) {
    Pose pose = Pose::Identity();
    const Vec3 turn = move.head<3>();
    if (turn.norm() > 0) pose.linear() = Eigen::AngleAxisd(turn.norm(), turn.normalized()).toRotationMatrix();
    pose.translation() = pivot + move.tail<3>() - pose.linear() * pivot;
    return pose;
}

// Turns spread evenly over all turns: super-Fibonacci spirals (M. Alexa, CVPR 2022, from memory).
std::vector<Mat3> spread_turns(int n) {
    const double phi = std::numbers::sqrt2, psi = 1.533751168755204288118041;
    std::vector<Mat3> all;
    for (int i = 0; i < n; ++i) {
        const double s = i + 0.5, t = s / n, d = 2 * std::numbers::pi * s;
        const double r = std::sqrt(t), q = std::sqrt(1 - t), a = d / phi, b = d / psi;
        all.push_back(Eigen::Quaterniond(q * std::cos(b), r * std::sin(a), r * std::cos(a), q * std::sin(b))
                          .toRotationMatrix());
    }
    return all;
}

struct Fit {
    Pose move;
    double cost = 0;
};

// One step of robust least squares over distances; returns the mean cost before it.
template <class Each>
double step(Pose& move, const Vec3& pivot, double width, const Each& each) {
    Mat6 matrix = 1e-9 * Mat6::Identity();
    Vec6 right = Vec6::Zero();
    double cost = 0, count = 0;
    // gradient: of the distance, for a shift of the second body
    each([&](double distance, const Vec3& place, const Vec3& gradient) {
        const double t = (distance / width) * (distance / width);
        cost += t / (1 + t);
        count += 1;
        const double weight = 1 / ((1 + t) * (1 + t));
        Vec6 row;
        row << (place - pivot).cross(gradient), gradient;
        matrix += weight * row * row.transpose();
        right -= weight * distance * row;
    });
    if (count > 0) {
        matrix.diagonal() *= 1.001;
        move = about(pivot, matrix.ldlt().solve(right)) * move;
    }
    return count > 0 ? cost / count : 1;
}

double apart_deg(const Pose& a, const Pose& b) {
    return Eigen::AngleAxisd(Mat3(a.linear().transpose() * b.linear())).angle() * 180 / std::numbers::pi;
}

// Discs that were really seen, at most about `most`, evenly taken.
struct Seen {
    std::vector<Vec3> positions, normals;
    explicit Seen(const Sheet& sheet, std::size_t most = std::numeric_limits<std::size_t>::max()) {
        const auto seen = std::size_t(std::count(sheet.invented.begin(), sheet.invented.end(), false));
        const std::size_t stride = std::max<std::size_t>(1, seen / most);
        std::size_t met = 0;
        for (std::size_t s = 0; s < sheet.size(); ++s) {
            if (sheet.invented[s] || met++ % stride != 0) continue;
            positions.push_back(sheet.positions[s]);
            normals.push_back(sheet.normals[s]);
        }
    }
    [[nodiscard]] library::Cloud cloud() const {
        return {positions.data()->data(), normals.data()->data(), positions.size()};
    }
};

// Whether the library shall go on; what was thrown for it not to is kept, as nothing may be thrown through
// it.
struct Going {
    const StopControl& control;
    std::exception_ptr stopped;
    bool on() {
        try {
            control.check();
        } catch (...) {
            stopped = std::current_exception();
        }
        return stopped == nullptr;
    }
};

// What both bodies are laid on each other by, roughly.
struct Rough {
    double size;  // of the first body, m
    DistanceGrid from_first, from_second;
    Vec3 first_centre, second_centre;
    std::vector<Vec3> on_first, on_second;

    Rough(const TriangleMesh& first, const TriangleMesh& second, const StopControl& control)
        : size(bounds(first).diagonal().norm()),
          from_first(first, control),
          from_second(second, control),
          first_centre(volume_moments(first).centre),
          second_centre(volume_moments(second).centre),
          on_first(every_nth(first.vertices, coarse_points)),
          on_second(every_nth(second.vertices, coarse_points)) {}

    // Improves one turn to start from.
    [[nodiscard]] Fit fit(const Mat3& start) const {
        Fit found;
        Pose& move = found.move;
        move = Pose::Identity();
        move.linear() = start;
        move.translation() = first_centre - start * second_centre;
        for (int k = 0; k < coarse_steps; ++k) {
            const double width = size * (k < coarse_steps / 2 ? 0.1 : 0.04);
            found.cost = step(move, first_centre, width, [&](const auto& take) {
                Vec3 gradient;
                for (const Vec3& p : on_second) {
                    const Vec3 place = move * p;
                    const double distance = from_first.at(place, gradient);
                    take(distance, place, gradient);
                }
                const Pose back = move.inverse();
                for (const Vec3& p : on_first) {
                    const double distance = from_second.at(back * p, gradient);
                    take(distance, p, Vec3(-(move.linear() * gradient)));
                }
            });
        }
        return found;
    }
};

// The cheapest fits that are really different, from turns all over.
std::vector<Fit> rough_fits(const Rough& rough, const StopControl& control) {
    const std::vector<Mat3> starts = spread_turns(turns);
    std::vector<Fit> fits(starts.size());
    stoppable_for(
        control, fits.size(),
        [&](std::size_t from, std::size_t to) {
            for (std::size_t f = from; f < to; ++f) fits[f] = rough.fit(starts[f]);
        },
        8);
    std::sort(fits.begin(), fits.end(), [](const Fit& a, const Fit& b) { return a.cost < b.cost; });
    std::vector<Fit> best;
    for (const Fit& fit : fits) {
        const bool known = std::any_of(best.begin(), best.end(), [&](const Fit& other) {
            return apart_deg(fit.move, other.move) < same_turn_deg;
        });
        if (known) continue;
        // A body that is round about an axis fits itself in many turns.
        if (best.size() >= refined && fit.cost > as_cheap * best.front().cost) break;
        best.push_back(fit);
        if (best.size() == most_refined) break;
    }
    return best;
}

// Where a disc of the second scan lies against the first's surface.
struct Met {
    Vec3 place, normal;
    double distance;  // along the normal, m
    double along;     // from the nearest disc along the surface, m
    double apart;     // from the nearest disc, m
};

// Brings the seen discs of the second scan onto those of the first.
class Fine {
  public:
    Fine(const Sheet& first, const Sheet& second, double size, double noise, const StopControl& control)
        : control_(control),
          target_(first),
          source_(second, fine_points),
          size_(size),
          reach_(widest * size),
          near_target_(target_.positions, control),
          finest_(std::max(2 * noise, 0.004 * size)) {}

    [[nodiscard]] Registration fit(const Pose& from) const {
        Registration end;
        end.move = laid_on(from);
        double sum = 0, squares = 0, shared = 0, all = 0;
        for (std::size_t s = 0; s < source_.positions.size(); ++s) {
            all += 1;
            const std::optional<Met> met = meet(end.move, s, std::min(reach_, 3 * finest_));
            // A partner far along the surface is no partner: there the first saw nothing.
            if (!met || met->along > 1.8 * finest_) continue;
            const double weight = 1 / (1 + met->distance * met->distance / (finest_ * finest_));
            sum += weight;
            squares += weight * met->distance * met->distance;
            shared += std::abs(met->distance) < 3 * finest_;
        }
        end.error = sum > 0 ? std::sqrt(squares / sum) : size_;
        end.overlap = all > 0 ? shared / all : 0;
        end.agreement = shared > 0 ? shared / (shared + disputed(end.move)) : 0;
        return end;
    }

  private:
    // Iterated closest points by the library, pairs counting within a width that narrows.
    [[nodiscard]] Pose laid_on(Pose move) const {
        std::vector<library::ClosestPointSteps> steps;
        for (double width = widest * size_; width > finest_; width *= narrows)
            steps.push_back({width, 1.5 * (width + finest_), 1});
        steps.push_back({finest_, 3 * finest_, steps_at_the_finest});
        const library::Cloud moved = source_.cloud(), onto = target_.cloud();
        Going going{control_, {}};
        const library::Asked asked{[](void* who) { return static_cast<Going*>(who)->on(); }, &going};
        library::Failure failure{};
        if (!scan_library().closest_points(&moved, &onto, steps.data(), steps.size(), &asked,
                                           move.matrix().data(), &failure)) {
            if (going.stopped) std::rethrow_exception(going.stopped);
            throw std::runtime_error(std::string("the scan library cannot bring two scans together: ") +
                                     failure.words);
        }
        return move;
    }

    // Nothing where no disc is near that faces the same way.
    [[nodiscard]] std::optional<Met> meet(const Pose& move, std::size_t s, double within) const {
        const Vec3 place = move * source_.positions[s];
        const std::ptrdiff_t t = near_target_.within(place, within);
        if (t < 0) return std::nullopt;
        const Vec3& normal = target_.normals[std::size_t(t)];
        if (normal.dot(move.linear() * source_.normals[s]) < 0.5) return std::nullopt;
        const Vec3 d = place - target_.positions[std::size_t(t)];
        const double distance = normal.dot(d);
        return Met{place, normal, distance, (d - distance * normal).norm(), d.norm()};
    }

    // How many discs lie over or under the first's surface.
    [[nodiscard]] double disputed(const Pose& move) const {
        double count = 0;
        for (std::size_t s = 0; s < source_.positions.size(); ++s) {
            const std::optional<Met> met = meet(move, s, reach_);
            if (!met) continue;
            const double distance = std::abs(met->distance);
            count += distance >= 3 * finest_ && met->apart < 1.4 * distance;
        }
        return count;
    }

    StopControl control_;
    Seen target_, source_;
    double size_, reach_;
    NearestPoints near_target_;
    double finest_;
};

}  // namespace

Registration register_scans(const Sheet& first, const TriangleMesh& first_body, const Sheet& second,
                            const TriangleMesh& second_body, double noise,
                            const std::function<bool(const Pose& move)>& possible,
                            const StopControl& control) {
    const Rough rough(first_body, second_body, control);
    const Fine fine(first, second, rough.size, noise, control);
    const std::vector<Fit> starts = rough_fits(rough, control);
    std::vector<Registration> ends(starts.size());
    stoppable_for(
        control, starts.size(),
        [&](std::size_t from, std::size_t to) {
            for (std::size_t f = from; f < to; ++f) ends[f] = fine.fit(starts[f].move);
        },
        1);
    if (possible) {
        const auto impossible = std::stable_partition(
            ends.begin(), ends.end(), [&](const Registration& r) { return possible(r.move); });
        if (impossible != ends.begin()) ends.erase(impossible, ends.end());
    }
    // Likeliness: a body that is much the same from two sides fits itself widely but badly when it is laid on
    // itself the wrong way; the right way fits as well as the points allow, over what both saw.
    const double floor = std::max(0.3 * noise, 8e-4 * rough.size);
    const auto merit = [&](const Registration& r) {
        return std::min(r.overlap, enough_overlap) / (r.error * r.error + floor * floor);
    };
    std::sort(ends.begin(), ends.end(),
              [&](const Registration& a, const Registration& b) { return merit(a) > merit(b); });
    // A body that is much the same from several sides fits several ways. It was turned over to show what it
    // had hidden: of fits as good as each other, the one in which the second scan shows most that is new.
    const auto good = std::find_if(ends.begin(), ends.end(), [&](const Registration& r) {
        return merit(r) < as_good * merit(ends.front());
    });
    const auto chosen =
        std::min_element(ends.begin(), good,
                         [](const Registration& a, const Registration& b) { return a.overlap < b.overlap; });
    Registration result = *chosen;
    for (const Registration& other : ends) {
        if (apart_deg(other.move, result.move) < same_turn_deg) continue;
        result.rival = std::min(1.0, merit(other) / merit(result));
        break;
    }
    return result;
}

}  // namespace evenspit::scan
