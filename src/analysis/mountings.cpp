// SPDX-License-Identifier: MIT
#include "analysis/mountings.h"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <utility>

#include <Eigen/Eigenvalues>

#include "analysis/normal_share.h"
#include "analysis/placed.h"
#include "load/arrangement.h"
#include "roast/cook_ends.h"

namespace evenspit {
namespace {

/// As many as Boost has directions for; what is drawn beyond is drawn without order.
constexpr std::size_t most_sobol_dimensions = 3667;

/// Deviates that an input takes.
std::size_t ways_of(Input::Kind kind) {
    switch (kind) {
        case Input::Kind::line_from:
        case Input::Kind::line_to:
            return 2;
        case Input::Kind::centre:
        case Input::Kind::rod_measures:
            return 3;
        default:
            return 1;
    }
}

/// The standard normal deviate that a share u of all stays below, 0 < u < 1.
double normal_quantile(double u) {
    using boost::math::policies::policy;
    using boost::math::policies::promote_double;
    return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * u, policy<promote_double<false>>());
}

double open_unit(std::uint64_t bits) {
    return (static_cast<double>(bits >> 11) + 0.5) * 0x1p-53;
}

std::vector<double> normal_deviates(std::size_t count, std::size_t width) {
    std::vector<double> deviates(count * width);
    if (deviates.empty()) return deviates;
    std::mt19937_64 random(20240229);
    const std::size_t ordered = std::min(width, most_sobol_dimensions);
    std::vector<std::uint64_t> shifts(ordered);
    for (std::uint64_t& shift : shifts) shift = random();
    boost::random::sobol_engine<std::uint64_t, 64> sobol(ordered);
    for (std::size_t k = 0; k < count; ++k) {
        double* const row = deviates.data() + k * width;
        for (std::size_t d = 0; d < ordered; ++d) row[d] = normal_quantile(open_unit(sobol() ^ shifts[d]));
        for (std::size_t d = ordered; d < width; ++d) row[d] = normal_quantile(open_unit(random()));
    }
    return deviates;
}

/// What turns three deviates into an error of an item's centre of mass: what no shape knows, each way, and
/// what the item's scan left open. The symmetric root of their covariance.
Mat3 centre_root(const Item& item, double each_way_m) {
    const std::optional<Mat3>& covariance = item.body->body.centre_covariance_m2;
    if (!covariance) return each_way_m * Mat3::Identity();
    const Eigen::SelfAdjointEigenSolver<Mat3> solver(*covariance);
    const Vec3 sigmas = (solver.eigenvalues().array().max(0) + each_way_m * each_way_m).sqrt();
    return solver.eigenvectors() * sigmas.asDiagonal() * solver.eigenvectors().transpose();
}

// Of an item's lengths together, share: as its scan tells, else as scans are.
double scale_spread(const Item& item, const Spread& s) {
    return item.scanned ? item.body->body.scale_sigma.value_or(s.scan_scale) : 0;
}

double least_zero(double value) {
    return std::max(0.0, value);
}

/// All that has a spread, what moves the unbalance most first: the first dimensions are spread most evenly.
std::vector<Input> inputs_of(const Assembly& assembly) {
    using enum Input::Kind;
    const Spread& s = assembly.spread;
    // Nothing is off, what scans left open included.
    const bool nothing_off = s == Spread::none();
    std::vector<Input> inputs;
    const auto add = [&](Input::Kind kind, Thing::Kind thing, std::size_t index, double spread) {
        if (spread > 0) inputs.push_back({kind, {thing, index}});
    };
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        const Item& item = assembly.items[i];
        const bool open_centre = item.body->body.centre_covariance_m2 && !nothing_off;
        add(line_from, Thing::Kind::item, i, s.rod_line_m);
        add(line_to, Thing::Kind::item, i, s.rod_line_m);
        add(centre, Thing::Kind::item, i, open_centre ? 1 : s.centre_m);
        add(item_mass, Thing::Kind::item, i, s.mass);
        add(station, Thing::Kind::item, i, s.station_m);
        add(turn, Thing::Kind::item, i, s.turn_rad);
        add(scan_scale, Thing::Kind::item, i, nothing_off ? 0 : scale_spread(item, s));
        add(bearing_strength, Thing::Kind::item, i,
            s.bearing_strength.value_or(bearing_strength_scatter(item)));
        add(tie, Thing::Kind::item, i, item.trussed && !item.body->body.if_undone.empty() ? s.limb_loose : 0);
    }
    for (std::size_t f = 0; f < assembly.forks.size(); ++f) {
        add(fork_station, Thing::Kind::fork, f, s.fork_station_m);
        add(fork_clock, Thing::Kind::fork, f,
            holds_by_shape(assembly.forks[f], assembly.rod) ? 0 : s.fork_clock_rad);
    }
    for (std::size_t c = 0; c < assembly.counterweights.size(); ++c) {
        add(counterweight_station, Thing::Kind::counterweight, c, s.counterweight_station_m);
        add(counterweight_radius, Thing::Kind::counterweight, c, s.counterweight_radius_m);
        add(counterweight_clock, Thing::Kind::counterweight, c, s.counterweight_clock_rad);
        add(counterweight_mass, Thing::Kind::counterweight, c, s.counterweight_mass);
    }
    add(friction, Thing::Kind::motor, 0, s.friction);
    add(motor, Thing::Kind::motor, 0, s.motor);
    add(yield_strength, Thing::Kind::rod, 0, s.yield_strength);
    add(rod_measures, Thing::Kind::rod, 0, s.rod_measures_m);
    for (std::size_t k = 0; k < assembly.cooker.surfaces.size(); ++k)
        add(cooker_measures, Thing::Kind::surface, k, s.cooker_measures_m);
    return inputs;
}

}  // namespace

int item_of_fork(const Assembly& assembly, const Fork& fork) {
    int best = -1;
    double longest = 0;
    for (std::size_t i = 0; i < assembly.items.size(); ++i) {
        if (fork.kind == ForkKind::basket && in_basket(assembly.items[i], fork)) return static_cast<int>(i);
        const auto [from, to] = stretch_on_rod(assembly.items[i]);
        for (const Tine& tine : fork.tines) {
            const auto [first, last] = tine_stretch(fork, tine);
            const double shared = std::min(to, last) - std::max(from, first);
            if (shared <= longest) continue;
            longest = shared;
            best = static_cast<int>(i);
        }
    }
    return best;
}

Mountings::Mountings(const Assembly& assembly, std::size_t count)
    : written_(assembly), count_(count), inputs_(inputs_of(assembly)) {
    for (const Input& input : inputs_) {
        first_.push_back(width_);
        width_ += ways_of(input.kind);
    }
    deviates_ = normal_deviates(count_, width_);
    for (const Item& item : assembly.items)
        centre_roots_.push_back(centre_root(item, assembly.spread.centre_m));
    for (const Item& item : assembly.items) rests_.push_back(pose_in(item, item.seat).inverse() * item.pose);
    for (const Fork& fork : assembly.forks) fork_items_.push_back(item_of_fork(assembly, fork));
}

void Mountings::restore(Assembly& work) const {
    for (std::size_t i = 0; i < work.items.size(); ++i) {
        work.items[i].seat = written_.items[i].seat;
        work.items[i].off = written_.items[i].off;
    }
    for (std::size_t f = 0; f < work.forks.size(); ++f) {
        work.forks[f].at_m = written_.forks[f].at_m;
        work.forks[f].clock_rad = written_.forks[f].clock_rad;
    }
    std::copy(written_.counterweights.begin(), written_.counterweights.end(), work.counterweights.begin());
    work.motor.friction_torque_n_m = written_.motor.friction_torque_n_m;
    work.motor.support_friction = written_.motor.support_friction;
    work.motor.rated_torque_n_m = written_.motor.rated_torque_n_m;
    work.motor.stall_torque_n_m = written_.motor.stall_torque_n_m;
    work.rod.material.yield_strength_pa = written_.rod.material.yield_strength_pa;
    work.rod.supports_m = written_.rod.supports_m;
    work.rod.length_m = written_.rod.length_m;
    for (std::size_t s = 0; s < work.cooker.surfaces.size(); ++s)
        work.cooker.surfaces[s].nearer_m = written_.cooker.surfaces[s].nearer_m;
}

void Mountings::apply(Assembly& work, std::span<const double> deviates, std::size_t input) const {
    const Spread& s = written_.spread;
    const auto& [kind, about] = inputs_[input];
    const std::size_t n = about.index;
    const auto x = [&](std::size_t way = 0) { return deviates[first_[input] + way]; };
    switch (kind) {
        case Input::Kind::line_from:
            work.items[n].seat.line.from += s.rod_line_m * Vec2(x(0), x(1));
            break;
        case Input::Kind::line_to:
            work.items[n].seat.line.to += s.rod_line_m * Vec2(x(0), x(1));
            break;
        case Input::Kind::centre:
            work.items[n].off.centre += centre_roots_[n] * Vec3(x(0), x(1), x(2));
            break;
        case Input::Kind::item_mass:
            work.items[n].off.mass *= least_zero(1 + s.mass * x());
            break;
        case Input::Kind::station:
            work.items[n].seat.at_m += s.station_m * x();
            // Forks are set against the item that they hold.
            for (std::size_t f = 0; f < work.forks.size(); ++f) {
                if (fork_items_[f] == static_cast<int>(n)) work.forks[f].at_m += s.station_m * x();
            }
            break;
        case Input::Kind::turn:
            work.items[n].seat.turn_rad += s.turn_rad * x();
            break;
        case Input::Kind::scan_scale:
            work.items[n].off.scale *= std::max(0.5, 1 + scale_spread(written_.items[n], s) * x());
            break;
        case Input::Kind::bearing_strength:
            work.items[n].off.strength *= least_zero(
                1 + s.bearing_strength.value_or(bearing_strength_scatter(written_.items[n])) * x());
            break;
        case Input::Kind::tie:
            work.items[n].off.undone = normal_share(x()) < s.limb_loose;
            break;
        case Input::Kind::fork_station:
            work.forks[n].at_m += s.fork_station_m * x();
            break;
        case Input::Kind::fork_clock:
            work.forks[n].clock_rad += s.fork_clock_rad * x();
            break;
        case Input::Kind::counterweight_station:
            work.counterweights[n].at_m += s.counterweight_station_m * x();
            break;
        case Input::Kind::counterweight_radius:
            work.counterweights[n].radius_m =
                least_zero(work.counterweights[n].radius_m + s.counterweight_radius_m * x());
            break;
        case Input::Kind::counterweight_clock:
            work.counterweights[n].clock_rad += s.counterweight_clock_rad * x();
            break;
        case Input::Kind::counterweight_mass:
            work.counterweights[n].mass_kg *= least_zero(1 + s.counterweight_mass * x());
            break;
        case Input::Kind::friction: {
            const double factor = least_zero(1 + s.friction * x());
            work.motor.support_friction *= factor;
            if (work.motor.friction_torque_n_m) *work.motor.friction_torque_n_m *= factor;
            break;
        }
        case Input::Kind::motor: {
            const double factor = least_zero(1 + s.motor * x());
            work.motor.rated_torque_n_m *= factor;
            work.motor.stall_torque_n_m *= factor;
            break;
        }
        case Input::Kind::yield_strength:
            work.rod.material.yield_strength_pa *= least_zero(1 + s.yield_strength * x());
            break;
        case Input::Kind::rod_measures:
            work.rod.supports_m[0] += s.rod_measures_m * x(0);
            work.rod.supports_m[1] += s.rod_measures_m * x(1);
            work.rod.length_m += s.rod_measures_m * x(2);
            break;
        case Input::Kind::cooker_measures:
            work.cooker.surfaces[n].nearer_m += s.cooker_measures_m * x();
            break;
    }
}

void Mountings::settle(Assembly& work) const {
    // A rod cannot end before its supports do, nor these before the rod begins.
    auto& [drive, far] = work.rod.supports_m;
    drive = least_zero(drive);
    work.rod.length_m = std::max(work.rod.length_m, far);
    for (std::size_t i = 0; i < work.items.size(); ++i)
        work.items[i].pose = pose_in(work.items[i], work.items[i].seat) * rests_[i];
}

void Mountings::mount(Assembly& work, std::size_t k) const {
    mount_by(work, row(k));
}

void Mountings::mount_by(Assembly& work, std::span<const double> deviates) const {
    restore(work);
    for (std::size_t input = 0; input < inputs_.size(); ++input) apply(work, deviates, input);
    settle(work);
}

void Mountings::mount_only(Assembly& work, std::size_t k, std::size_t input) const {
    restore(work);
    apply(work, row(k), input);
    settle(work);
}

void Mountings::see_all_round(Assembly& work, std::size_t k) const {
    for (std::size_t input = 0; input < inputs_.size(); ++input) {
        if (inputs_[input].kind != Input::Kind::centre) continue;
        const std::size_t n = inputs_[input].about.index;
        const std::span<const double> x = row(k).subspan(first_[input]);
        const Vec3 unknown(x[0], x[1], x[2]);
        work.items[n].off.centre = written_.items[n].off.centre + written_.spread.centre_m * unknown;
    }
}

Assembly Mountings::mounting(std::size_t k) const {
    Assembly work = written_;
    mount(work, k);
    return work;
}

}  // namespace evenspit
