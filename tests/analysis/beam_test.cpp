// SPDX-License-Identifier: MIT
#include "analysis/beam.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <set>
#include <stdexcept>

#include <Eigen/Dense>
#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace evenspit {
namespace {

/// E I of a 12 mm square bar of E = 200 GPa, N m².
const double stiffness = 200e9 * std::pow(0.012, 4) / 12;

BeamProblem simple_span(double length) {
    return {.length_m = length,
            .supports_m = {0, length},
            .bending_stiffness_n_m2 = stiffness,
            .points = {},
            .spreads = {}};
}

/// An independent solution: cubic (Hermite) beam elements between all stations where something changes, which
/// are exact at their nodes for loads at nodes and even loads over whole elements. In extended precision.
struct FiniteElements {
    std::vector<double> at;
    std::vector<double> sag, moment;  ///< at the stations
    std::array<double, 2> reactions{};
};

FiniteElements finite_elements(const BeamProblem& problem) {
    using Real = long double;
    using Matrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
    using Vector = Eigen::Matrix<Real, Eigen::Dynamic, 1>;
    std::set<double> stations{0, problem.supports_m[0], problem.supports_m[1], problem.length_m};
    for (const PointLoad& load : problem.points) stations.insert(load.at_m);
    for (const SpreadLoad& load : problem.spreads) {
        stations.insert(load.from_m);
        stations.insert(load.to_m);
    }
    FiniteElements result;
    result.at.assign(stations.begin(), stations.end());
    const auto node = [&](double x) { return std::distance(stations.begin(), stations.find(x)); };
    const auto nodes = static_cast<Eigen::Index>(stations.size());

    // Two unknowns a node: displacement down, and its slope.
    Matrix system = Matrix::Zero(2 * nodes, 2 * nodes);
    Vector load = Vector::Zero(2 * nodes);
    Vector spread = Vector::Zero(nodes - 1);  // N/m on each element
    for (const PointLoad& p : problem.points) load[2 * node(p.at_m)] += p.force_n;
    for (const SpreadLoad& s : problem.spreads) {
        for (Eigen::Index e = node(s.from_m); e < node(s.to_m); ++e) spread[e] += s.force_n_m;
    }
    const Real ei = problem.bending_stiffness_n_m2;
    const auto element = [&](Eigen::Index e) {
        const Real l = static_cast<Real>(result.at[static_cast<std::size_t>(e) + 1]) -
                       static_cast<Real>(result.at[static_cast<std::size_t>(e)]);
        Eigen::Matrix<Real, 4, 4> k;
        k << 12, 6 * l, -12, 6 * l,               //
            6 * l, 4 * l * l, -6 * l, 2 * l * l,  //
            -12, -6 * l, 12, -6 * l,              //
            6 * l, 2 * l * l, -6 * l, 4 * l * l;
        const Real w = spread[e];
        const Eigen::Matrix<Real, 4, 1> even(w * l / 2, w * l * l / 12, w * l / 2, -w * l * l / 12);
        return std::pair{Eigen::Matrix<Real, 4, 4>(k * (ei / (l * l * l))), even};
    };
    for (Eigen::Index e = 0; e + 1 < nodes; ++e) {
        const auto [k, even] = element(e);
        system.block<4, 4>(2 * e, 2 * e) += k;
        load.segment<4>(2 * e) += even;
    }
    const Matrix free_system = system;
    const Vector free_load = load;
    for (const double support : problem.supports_m) {
        const Eigen::Index row = 2 * node(support);
        system.row(row).setZero();
        system.col(row).setZero();
        system(row, row) = 1;
        load[row] = 0;
    }
    const Vector u = system.partialPivLu().solve(load);
    const Vector residual = free_load - free_system * u;
    for (std::size_t i = 0; i < 2; ++i) {
        result.reactions[i] = static_cast<double>(residual[2 * node(problem.supports_m[i])]);
    }
    for (Eigen::Index i = 0; i < nodes; ++i) result.sag.push_back(static_cast<double>(u[2 * i]));
    for (Eigen::Index e = 0; e + 1 < nodes; ++e) {
        const auto [k, even] = element(e);
        const Eigen::Matrix<Real, 4, 1> ends = k * u.segment<4>(2 * e) - even;
        // The moment that the left end takes, hollow side up positive with displacement counted down.
        result.moment.push_back(static_cast<double>(ends[1]));
        if (e + 2 == nodes) result.moment.push_back(static_cast<double>(-ends[3]));
    }
    return result;
}

/// A beam with overhangs and loads anywhere, stations on a grid so that no element is a sliver.
BeamProblem arbitrary_beam() {
    constexpr int grid = 64;
    const double length = *rc::gen::inRange(200, 1500) / 1000.0;
    const auto station = [&](int from, int to) { return length * *rc::gen::inRange(from, to) / grid; };
    BeamProblem p{.length_m = length,
                  .supports_m = {station(0, 24), station(32, grid + 1)},
                  .bending_stiffness_n_m2 = *rc::gen::inRange(10, 10000) / 10.0,
                  .points = {},
                  .spreads = {}};
    const int points = *rc::gen::inRange(0, 6), spreads = *rc::gen::inRange(0, 4);
    for (int i = 0; i < points; ++i) {
        // Pulled up now and then.
        p.points.push_back({station(0, grid + 1), *rc::gen::inRange(-200, 800) / 10.0});
    }
    for (int i = 0; i < spreads; ++i) {
        const int from = *rc::gen::inRange(0, grid), to = *rc::gen::inRange(from + 1, grid + 1);
        p.spreads.push_back({length * from / grid, length * to / grid, *rc::gen::inRange(0, 1000) / 10.0});
    }
    return p;
}

/// Sizes that errors are measured against.
struct Scales {
    double force = 0, moment = 0, sag = 0;
};

Scales scales(const BeamProblem& p) {
    Scales s;
    for (const PointLoad& load : p.points) s.force += std::abs(load.force_n);
    for (const SpreadLoad& load : p.spreads) s.force += std::abs(load.force_n_m) * (load.to_m - load.from_m);
    s.force = std::max(s.force, 1e-3);
    s.moment = s.force * p.length_m;
    s.sag = s.force * std::pow(p.length_m, 3) / p.bending_stiffness_n_m2;
    return s;
}

BeamProblem mirrored(BeamProblem p) {
    p.supports_m = {p.length_m - p.supports_m[1], p.length_m - p.supports_m[0]};
    for (PointLoad& load : p.points) load.at_m = p.length_m - load.at_m;
    for (SpreadLoad& load : p.spreads) {
        const double from = p.length_m - load.to_m;
        load.to_m = p.length_m - load.from_m;
        load.from_m = from;
    }
    return p;
}

BeamProblem both(BeamProblem a, const BeamProblem& b) {
    a.points.insert(a.points.end(), b.points.begin(), b.points.end());
    a.spreads.insert(a.spreads.end(), b.spreads.begin(), b.spreads.end());
    return a;
}

}  // namespace

// AISC Steel Construction Manual, table 3-23 (from memory): case 1, even load over a simple span.
TEST(Beam, EvenLoadOnSimpleSpan) {
    const double length = 0.8, w = 75;  // 60 N in all
    BeamProblem p = simple_span(length);
    p.spreads = {{0, length, w}};
    const Beam beam(p);
    EXPECT_NEAR(beam.reactions()[0], 30, 1e-12);
    EXPECT_NEAR(beam.reactions()[1], 30, 1e-12);
    EXPECT_NEAR(beam.moment(length / 2), w * length * length / 8, 1e-12);
    EXPECT_NEAR(beam.sag(length / 2), 5 * w * std::pow(length, 4) / (384 * stiffness), 1e-15);
    EXPECT_NEAR(beam.sag(length / 2), 1.157e-3, 0.5e-6);  // the formula in figures
    const BeamExtreme sag = beam.largest_sag();
    EXPECT_NEAR(sag.at_m, length / 2, 1e-6);
    EXPECT_NEAR(sag.value, beam.sag(length / 2), 1e-15);
    const BeamExtreme moment = beam.largest_moment(0, length);
    EXPECT_NEAR(moment.at_m, length / 2, 1e-9);
    EXPECT_NEAR(moment.value, w * length * length / 8, 1e-12);
}

// Table 3-23, case 8: one load anywhere on a simple span, a before it and b behind.
TEST(Beam, OneLoadAnywhereOnSimpleSpan) {
    const double length = 0.64, force = 45;
    for (const double a : {0.4, 0.35, 0.5}) {
        const double b = length - a;
        BeamProblem p = simple_span(length);
        p.points = {{a, force}};
        const Beam beam(p);
        EXPECT_NEAR(beam.reactions()[0], force * b / length, 1e-12);
        EXPECT_NEAR(beam.reactions()[1], force * a / length, 1e-12);
        EXPECT_NEAR(beam.moment(a), force * a * b / length, 1e-12);
        EXPECT_NEAR(beam.sag(a), force * a * a * b * b / (3 * stiffness * length), 1e-15);
        // For a > b the beam is lowest at √(a (a + 2 b) / 3).
        const double lowest = std::sqrt(a * (a + 2 * b) / 3);
        EXPECT_NEAR(beam.largest_sag().at_m, lowest, 1e-6);
        EXPECT_NEAR(beam.largest_sag().value,
                    force * a * b * (a + 2 * b) * std::sqrt(3 * a * (a + 2 * b)) / (27 * stiffness * length),
                    1e-14);
    }
}

// Table 3-23, case 9: two equal loads at a from each end.
TEST(Beam, TwoEqualLoadsOnSimpleSpan) {
    const double length = 0.8, a = 0.25, force = 30;
    BeamProblem p = simple_span(length);
    p.points = {{a, force}, {length - a, force}};
    const Beam beam(p);
    EXPECT_NEAR(beam.reactions()[0], force, 1e-12);
    EXPECT_NEAR(beam.moment(a), force * a, 1e-12);
    EXPECT_NEAR(beam.moment(length / 2), 7.5, 1e-12);
    EXPECT_NEAR(beam.sag(length / 2), force * a * (3 * length * length - 4 * a * a) / (24 * stiffness),
                1e-15);
    EXPECT_NEAR(beam.sag(length / 2), 1.510e-3, 0.5e-6);
    EXPECT_NEAR(beam.sag(a), force * a * (3 * length * a - 4 * a * a) / (6 * stiffness), 1e-15);
}

// Table 3-23, case 26: a load at the end of an overhang c; the span between the supports bows up.
TEST(Beam, LoadAtTheEndOfAnOverhang) {
    const double span = 0.6, c = 0.15, force = 50;
    const BeamProblem p{.length_m = span + c,
                        .supports_m = {0, span},
                        .bending_stiffness_n_m2 = stiffness,
                        .points = {{span + c, force}},
                        .spreads = {}};
    const Beam beam(p);
    EXPECT_NEAR(beam.reactions()[0], -force * c / span, 1e-12);
    EXPECT_NEAR(beam.reactions()[1], force * (span + c) / span, 1e-12);
    EXPECT_NEAR(beam.moment(span), -force * c, 1e-12);
    EXPECT_NEAR(beam.sag(span + c), force * c * c * (span + c) / (3 * stiffness), 1e-15);
    EXPECT_NEAR(beam.sag(span / std::sqrt(3.0)), -force * c * span * span / (9 * std::sqrt(3.0) * stiffness),
                1e-15);
    EXPECT_EQ(beam.largest_sag().at_m, span + c);
    EXPECT_NEAR(beam.largest_sag().value, force * c * c * (span + c) / (3 * stiffness), 1e-15);
}

// By symmetry, and by the cantilever from the support: w c²/2 there.
TEST(Beam, EvenLoadOverBothOverhangs) {
    const double c = 0.1, span = 0.5, w = 40;
    const BeamProblem p{.length_m = span + 2 * c,
                        .supports_m = {c, c + span},
                        .bending_stiffness_n_m2 = stiffness,
                        .points = {},
                        .spreads = {{0, span + 2 * c, w}}};
    const Beam beam(p);
    EXPECT_NEAR(beam.reactions()[0], w * (span + 2 * c) / 2, 1e-12);
    EXPECT_NEAR(beam.reactions()[1], w * (span + 2 * c) / 2, 1e-12);
    EXPECT_NEAR(beam.moment(c), -w * c * c / 2, 1e-12);
    EXPECT_NEAR(beam.moment(c + span / 2), w * span * span / 8 - w * c * c / 2, 1e-12);
    EXPECT_NEAR(beam.sag(0), beam.sag(span + 2 * c), 1e-15);
}

TEST(Beam, LoadsOnTheSupportsBendNothing) {
    const BeamProblem p{.length_m = 0.9,
                        .supports_m = {0.1, 0.7},
                        .bending_stiffness_n_m2 = stiffness,
                        .points = {{0.1, 40}, {0.7, 25}},
                        .spreads = {}};
    const Beam beam(p);
    EXPECT_NEAR(beam.reactions()[0], 40, 1e-12);
    EXPECT_NEAR(beam.reactions()[1], 25, 1e-12);
    for (const double x : {0.0, 0.05, 0.1, 0.4, 0.7, 0.9}) {
        EXPECT_NEAR(beam.moment(x), 0, 1e-13) << x;
        EXPECT_NEAR(beam.sag(x), 0, 1e-15) << x;
    }
}

TEST(Beam, WithoutLoadLiesStraight) {
    const Beam beam(simple_span(0.5));
    EXPECT_EQ(beam.reactions()[0], 0);
    EXPECT_EQ(beam.reactions()[1], 0);
    EXPECT_EQ(beam.moment(0.2), 0);
    EXPECT_EQ(beam.sag(0.2), 0);
    EXPECT_EQ(beam.largest_sag().value, 0);
    EXPECT_EQ(beam.largest_moment(0, 0.5).value, 0);
}

// A load that pulls up everywhere leaves no sag to tell.
TEST(Beam, PulledUpHasNoSag) {
    BeamProblem p = simple_span(0.5);
    p.points = {{0.2, -10}};
    const Beam beam(p);
    EXPECT_LT(beam.sag(0.25), 0);
    EXPECT_EQ(beam.largest_sag().value, 0);
}

TEST(Beam, RefusesWhatIsNoBeam) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [](auto change) {
        BeamProblem p = simple_span(0.5);
        change(p);
        EXPECT_THROW(Beam{p}, std::invalid_argument);
    };
    refused([](BeamProblem& p) { p.length_m = 0; });
    refused([](BeamProblem& p) { p.length_m = -1; });
    refused([&](BeamProblem& p) { p.length_m = nan; });
    refused([](BeamProblem& p) { p.bending_stiffness_n_m2 = 0; });
    refused([&](BeamProblem& p) { p.bending_stiffness_n_m2 = nan; });
    refused([](BeamProblem& p) { p.supports_m = {-0.01, 0.5}; });
    refused([](BeamProblem& p) { p.supports_m = {0, 0.51}; });
    refused([](BeamProblem& p) { p.supports_m = {0.3, 0.3}; });
    refused([](BeamProblem& p) { p.supports_m = {0.4, 0.1}; });
    refused([&](BeamProblem& p) { p.supports_m = {nan, 0.5}; });
    refused([](BeamProblem& p) { p.points = {{-0.01, 1}}; });
    refused([](BeamProblem& p) { p.points = {{0.51, 1}}; });
    refused([&](BeamProblem& p) { p.points = {{0.2, nan}}; });
    refused([](BeamProblem& p) { p.spreads = {{0.3, 0.2, 1}}; });
    refused([](BeamProblem& p) { p.spreads = {{0.3, 0.6, 1}}; });
    refused([&](BeamProblem& p) { p.spreads = {{0.1, 0.2, nan}}; });
}

TEST(Beam, AgreesWithFiniteElements) {
    const bool held = rc::check("reactions, moment and sag at every node", [] {
        const BeamProblem p = arbitrary_beam();
        const Beam beam(p);
        const FiniteElements peer = finite_elements(p);
        const Scales size = scales(p);
        for (std::size_t i = 0; i < 2; ++i) {
            RC_ASSERT(std::abs(beam.reactions()[i] - peer.reactions[i]) <= 1e-9 * size.force);
        }
        RC_ASSERT(beam.breakpoints() == peer.at);
        for (std::size_t i = 0; i < peer.at.size(); ++i) {
            RC_ASSERT(std::abs(beam.moment(peer.at[i]) - peer.moment[i]) <= 1e-9 * size.moment);
            RC_ASSERT(std::abs(beam.sag(peer.at[i]) - peer.sag[i]) <= 1e-9 * size.sag);
        }
    });
    EXPECT_TRUE(held);
}

TEST(Beam, CarriesAllThatHangsOnIt) {
    const bool held = rc::check("sums of forces and of moments vanish", [] {
        const BeamProblem p = arbitrary_beam();
        const Beam beam(p);
        const Scales size = scales(p);
        double force = beam.reactions()[0] + beam.reactions()[1];
        double moment = beam.reactions()[0] * p.supports_m[0] + beam.reactions()[1] * p.supports_m[1];
        for (const PointLoad& load : p.points) {
            force -= load.force_n;
            moment -= load.force_n * load.at_m;
        }
        for (const SpreadLoad& load : p.spreads) {
            const double weight = load.force_n_m * (load.to_m - load.from_m);
            force -= weight;
            moment -= weight * (load.from_m + load.to_m) / 2;
        }
        RC_ASSERT(std::abs(force) <= 1e-12 * size.force);
        RC_ASSERT(std::abs(moment) <= 1e-12 * size.moment);
        // Nothing holds the ends.
        RC_ASSERT(std::abs(beam.moment(0)) <= 1e-12 * size.moment);
        RC_ASSERT(std::abs(beam.moment(p.length_m)) <= 1e-12 * size.moment);
        RC_ASSERT(std::abs(beam.sag(p.supports_m[0])) <= 1e-12 * size.sag);
        RC_ASSERT(std::abs(beam.sag(p.supports_m[1])) <= 1e-12 * size.sag);
    });
    EXPECT_TRUE(held);
}

// E I v'' = −M with v counted down, by central differences; and the curve has no kink at any breakpoint.
TEST(Beam, SagBendsAsTheMomentSays) {
    const bool held = rc::check("second differences of the sag", [] {
        const BeamProblem p = arbitrary_beam();
        const Beam beam(p);
        const Scales size = scales(p);
        const double ei = p.bending_stiffness_n_m2;
        const std::vector<double>& marks = beam.breakpoints();
        const double h = p.length_m * 1e-3;
        for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
            const double x = (marks[i] + marks[i + 1]) / 2;
            const double curvature = (beam.sag(x - h) - 2 * beam.sag(x) + beam.sag(x + h)) / (h * h);
            RC_ASSERT(std::abs(ei * curvature + beam.moment(x)) <= 1e-5 * size.moment);
        }
        for (std::size_t i = 1; i + 1 < marks.size(); ++i) {
            const double step = p.length_m * 1e-6;
            const double before = (beam.sag(marks[i]) - beam.sag(marks[i] - step)) / step;
            const double behind = (beam.sag(marks[i] + step) - beam.sag(marks[i])) / step;
            RC_ASSERT(std::abs(before - behind) <= 1e-5 * size.sag / p.length_m);
        }
    });
    EXPECT_TRUE(held);
}

TEST(Beam, LoadsAddUp) {
    const bool held = rc::check("superposition", [] {
        BeamProblem a = arbitrary_beam(), b = arbitrary_beam();
        // The second's loads on the first's beam.
        for (PointLoad& load : b.points) load.at_m *= a.length_m / b.length_m;
        for (SpreadLoad& load : b.spreads) {
            load.from_m *= a.length_m / b.length_m;
            load.to_m = std::min(a.length_m, load.to_m * a.length_m / b.length_m);
        }
        for (PointLoad& load : b.points) load.at_m = std::min(load.at_m, a.length_m);
        b.length_m = a.length_m;
        b.supports_m = a.supports_m;
        b.bending_stiffness_n_m2 = a.bending_stiffness_n_m2;
        const Beam one(a), other(b), together(both(a, b));
        const Scales size = scales(both(a, b));
        for (int k = 0; k <= 20; ++k) {
            const double x = a.length_m * k / 20;
            RC_ASSERT(std::abs(one.moment(x) + other.moment(x) - together.moment(x)) <= 1e-12 * size.moment);
            RC_ASSERT(std::abs(one.sag(x) + other.sag(x) - together.sag(x)) <= 1e-12 * size.sag);
        }
    });
    EXPECT_TRUE(held);
}

TEST(Beam, TurnedEndForEndIsTheSame) {
    const bool held = rc::check("mirror law", [] {
        const BeamProblem p = arbitrary_beam();
        const Beam beam(p), mirror(mirrored(p));
        const Scales size = scales(p);
        RC_ASSERT(std::abs(beam.reactions()[0] - mirror.reactions()[1]) <= 1e-12 * size.force);
        for (int k = 0; k <= 20; ++k) {
            const double x = p.length_m * k / 20;
            RC_ASSERT(std::abs(beam.moment(x) - mirror.moment(p.length_m - x)) <= 1e-11 * size.moment);
            RC_ASSERT(std::abs(beam.sag(x) - mirror.sag(p.length_m - x)) <= 1e-11 * size.sag);
        }
        RC_ASSERT(std::abs(beam.largest_sag().value - mirror.largest_sag().value) <= 1e-11 * size.sag);
    });
    EXPECT_TRUE(held);
}

TEST(Beam, QuickSagIsTheSameButForRounding) {
    const bool held = rc::check("the sums up to each breakpoint", [] {
        const BeamProblem p = arbitrary_beam();
        const Beam beam(p);
        std::vector<double> places = beam.breakpoints();
        for (int k = -1; k <= 51; ++k) places.push_back(p.length_m * k / 50);
        for (const double x : places)
            RC_ASSERT(std::abs(beam.quick_sag(x) - beam.sag(x)) <= beam.quick_sag_error_m());
    });
    EXPECT_TRUE(held);
}

TEST(Beam, SagsMostUnderManyLoadsAsUnderTheirMean) {
    // So many evenly apart bend it as an even load does, 5 w L⁴ / 384 E I in the middle.
    constexpr int loads = 1000;
    constexpr double length = 20, weight = 2;
    BeamProblem p = simple_span(length);
    for (int k = 0; k < loads; ++k) p.points.push_back({length * (k + 0.5) / loads, weight});
    const Beam beam(p);
    const double even = 5 * loads * weight * std::pow(length, 3) / (384 * stiffness);
    EXPECT_NEAR(beam.largest_sag().value, even, 1e-5 * even);
    EXPECT_NEAR(beam.largest_sag().at_m, length / 2, 1e-3);
    for (double x = 0.013; x < length; x += 0.71)
        EXPECT_NEAR(beam.quick_sag(x), beam.sag(x), beam.quick_sag_error_m());
    EXPECT_LT(beam.quick_sag_error_m(), 1e-8 * even);
    EXPECT_LT(beam.quick_moment_error_n_m(), 1e-8 * loads * weight * length / 8);
}

// What sums that run along the beam tell of moments, against each load's own part.
TEST(Beam, QuickMomentIsTheMomentButForRounding) {
    const bool held = rc::check("off by no more than is told, and nowhere beyond the most", [] {
        const Beam beam(arbitrary_beam());
        const double error = beam.quick_moment_error_n_m();
        const std::vector<double>& marks = beam.breakpoints();
        for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
            const double most = beam.most_moment(marks[i], marks[i + 1]);
            RC_ASSERT(std::abs(beam.largest_moment(marks[i], marks[i + 1]).value) <= most + error);
            for (int k = 0; k <= 20; ++k) {
                const double x = k == 20 ? marks[i + 1] : marks[i] + (marks[i + 1] - marks[i]) * k / 20;
                RC_ASSERT(std::abs(beam.quick_moment(x) - beam.moment(x)) <= error);
            }
        }
    });
    EXPECT_TRUE(held);
}

TEST(Beam, ExtremesAreNotBeatenAnywhere) {
    const bool held = rc::check("no sample goes beyond the extremes", [] {
        const BeamProblem p = arbitrary_beam();
        const Beam beam(p);
        const Scales size = scales(p);
        const BeamExtreme sag = beam.largest_sag();
        RC_ASSERT(sag.value >= 0);
        RC_ASSERT(sag.value == 0 || beam.sag(sag.at_m) == sag.value);
        const std::vector<double>& marks = beam.breakpoints();
        for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
            const BeamExtreme moment = beam.largest_moment(marks[i], marks[i + 1]);
            RC_ASSERT(moment.at_m >= marks[i] && moment.at_m <= marks[i + 1]);
            for (int k = 0; k <= 50; ++k) {
                const double x = marks[i] + (marks[i + 1] - marks[i]) * k / 50;
                RC_ASSERT(beam.sag(x) <= sag.value + 1e-13 * size.sag);
                RC_ASSERT(std::abs(beam.moment(x)) <= std::abs(moment.value) + 1e-12 * size.moment);
            }
        }
    });
    EXPECT_TRUE(held);
}

}  // namespace evenspit
