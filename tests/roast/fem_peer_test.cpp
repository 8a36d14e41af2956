// SPDX-License-Identifier: MIT
// A lumpy ring with a bone in it, hot air on one side and cool on the other, against finite elements: the
// values and their script are tests/reference/heat_fem.txt and heat_fem.py. The shape is given there too;
// keep the two alike.
#include <array>
#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "roast/conduction.h"
#include "roast/heat_cases.h"
#include "units/unit_table.h"

namespace evenspit {
namespace {

using std::numbers::pi;
using unit_factors::celsius_zero_k;

constexpr double ring_m = 0.055, tube_m = 0.026;
constexpr double start_k = 5 + celsius_zero_k;

Vec3 ring_place(double u, double outward, double up) {
    return {(ring_m + outward) * std::cos(u), (0.8 * ring_m + outward) * std::sin(u),
            0.012 * std::cos(2 * u) + up};
}

TriangleMesh ring_mesh() {
    constexpr int around = 96, across = 44;
    TriangleMesh mesh;
    const auto at = [](int i, int j) { return std::int32_t(i % around * across + j % across); };
    for (int i = 0; i < around; ++i) {
        const double u = 2 * pi * i / around;
        const double tube = tube_m + 0.007 * std::cos(u) + 0.002 * std::sin(2 * u);
        for (int j = 0; j < across; ++j) {
            const double v = 2 * pi * j / across;
            mesh.vertices.push_back(ring_place(u, tube * std::cos(v), tube * std::sin(v)));
            mesh.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            mesh.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    }
    return mesh;
}

TriangleMesh bone_mesh() {
    return test::grid_mesh(16, 24, [](double u, double v) {
        const double radius = v > 0 && v < 1 ? 0.011 * std::sqrt(std::sin(pi * v)) : 0.0;
        return ring_place(-1.1 + 2.0 * v, 0.006 + radius * std::cos(u), -0.005 + radius * std::sin(u));
    });
}

std::shared_ptr<const body::PreparedBody> ring() {
    body::Body body;
    body.name = "ring";
    body.parts.push_back({.name = "flesh", .mesh = ring_mesh(), .density_kg_m3 = 1050});
    body.parts.push_back({.name = "bone",
                          .kind = body::PartKind::bone,
                          .mesh = bone_mesh(),
                          .density_kg_m3 = 1200,
                          .parent = 0});
    for (body::Part& part : body.parts) {
        if (volume_moments(part.mesh).amount < 0) {
            for (Triangle& t : part.mesh.triangles) std::swap(t[1], t[2]);
        }
    }
    return body::prepare(std::move(body));
}

struct Peer {
    std::array<double, 2> area_m2{};
    double capacity_j_k = 0;
    std::array<double, 3> time_s{}, heat_j{};
    struct Probe {
        Vec3 place = Vec3::Zero();
        std::array<double, 3> celsius{};
        std::string name;
    };
    std::vector<Probe> probes;
};

Peer peer() {
    std::ifstream file(EVENSPIT_SOURCE_DIR "/tests/reference/heat_fem.txt");
    std::string text;
    for (std::string line; std::getline(file, line);) {
        if (!line.starts_with('#')) text += line + '\n';
    }
    std::istringstream in(text);
    Peer out;
    in >> out.area_m2[0] >> out.area_m2[1] >> out.capacity_j_k;
    for (double& t : out.time_s) in >> t;
    for (double& heat : out.heat_j) in >> heat;
    for (Peer::Probe probe; in >> probe.place.x() >> probe.place.y() >> probe.place.z();) {
        for (double& t : probe.celsius) in >> t;
        std::getline(in, probe.name);
        out.probes.push_back(probe);
    }
    return out;
}

std::vector<ThermalTable> tables(const HeatGrid& grid) {
    std::vector<ThermalTable> all;
    for (const Tissue& tissue : grid.tissues) {
        all.push_back(tissue.kind == TissueKind::bone ? constant_matter(0.25, 2.0e6)
                                                      : constant_matter(0.48, 3.7e6));
    }
    return all;
}

std::vector<SurfaceExposure> half_hot(const TriangleMesh& mesh) {
    const auto is_hot = [](const Vec3& middle, const Vec3&) { return middle.y() > 0; };
    std::vector<SurfaceExposure> hot = test::convection(mesh, 200 + celsius_zero_k, 25, is_hot);
    for (SurfaceExposure& meets : hot) {
        if (!(meets.convection_w_m2k > 0))
            meets = {.air_k = 60 + celsius_zero_k, .convection_w_m2k = 15, .emissivity = 0};
    }
    return hot;
}

TEST(FemPeer, HasTheSameBody) {
    const Peer expected = peer();
    ASSERT_EQ(expected.probes.size(), 12U);
    const auto body = ring();
    std::array<double, 2> area{};
    const TriangleMesh& skin = body->body.parts[0].mesh;
    for (const Triangle& t : skin.triangles) {
        const Vec3 a = skin.corner(t, 0), b = skin.corner(t, 1), c = skin.corner(t, 2);
        area[(a + b + c).y() > 0 ? 0 : 1] += 0.5 * (b - a).cross(c - a).norm();
    }
    EXPECT_NEAR(area[0], expected.area_m2[0], 1e-8);
    EXPECT_NEAR(area[1], expected.area_m2[1], 1e-8);
    const double whole = volume_moments(skin).amount;
    const double bone = volume_moments(body->body.parts[1].mesh).amount;
    EXPECT_NEAR((whole - bone) * 3.7e6 + bone * 2.0e6, expected.capacity_j_k, 1e-3);
}

TEST(FemPeer, HasTheSameTemperaturesAndHeat) {
    const Peer expected = peer();
    ASSERT_EQ(expected.probes.size(), 12U);
    const auto body = ring();
    const auto grid = test::grid_of(*body, 0.002);
    const auto meets = half_hot(body->body.parts[0].mesh);
    Conduction heat(grid, tables(*grid), start_k);
    for (std::size_t n = 0; n < expected.time_s.size(); ++n) {
        heat.advance_to(expected.time_s[n], meets);
        EXPECT_NEAR(heat.ledger().outside_j / expected.heat_j[n], 1, 0.003) << expected.time_s[n] << " s";
        for (const Peer::Probe& probe : expected.probes) {
            EXPECT_NEAR(heat.temperature_at_k(probe.place) - celsius_zero_k, probe.celsius[n], 0.5)
                << probe.name << ", " << expected.time_s[n] << " s";
        }
    }
}

}  // namespace
}  // namespace evenspit
