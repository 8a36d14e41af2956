// SPDX-License-Identifier: MIT
// The torque over a whole turn of a loaded spit, against MuJoCo 2.2, a rigid-body engine: the load is a body
// on a hinge along the rod, and what holds it still at an angle is the joint's bias force.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

#include <Eigen/Geometry>
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <mujoco/mujoco.h>

#include "analysis/analysis.h"
#include "analysis/loads.h"
#include "body/bird.h"
#include "body/solid_body.h"
#include "geometry/mesh_io.h"
#include "units/standard_gravity.h"

namespace evenspit {
namespace {

using test::degree;

/// Writes an assembly as two bodies hinged on the same axis: `load` is all that is there; `hollow` is what
/// denser parts lack where lighter or empty ones replace them, to be subtracted (the engine knows no negative
/// mass).
class Scene {
  public:
    explicit Scene(const Assembly& a) {
        for (const Item& item : a.items) add_item(item);
        for (const Fork& fork : a.forks) add_fork(fork);
        for (const Counterweight& w : a.counterweights) {
            const Vec3 centre(w.at_m, w.radius_m * std::cos(w.clock_rad), w.radius_m * std::sin(w.clock_rad));
            load_ += fmt::format(R"(<geom type="sphere" size="0.01" mass="{:.17g}" pos="{}"/>)", w.mass_kg,
                                 words(centre));
        }
        const double half = a.rod.width_m / 2;
        load_ += fmt::format(
            R"(<geom type="box" size="{0:.17g} {1:.17g} {1:.17g}" density="{2:.17g}" pos="{0:.17g} 0 0"/>)",
            a.rod.length_m / 2, half, a.rod.material.density_kg_m3);
    }

    [[nodiscard]] std::string xml() const {
        const std::string hinge = R"(<joint type="hinge" axis="1 0 0"/>)";
        const std::string hollow = hollow_.empty() ? "" : "<body>" + hinge + hollow_ + "</body>";
        return fmt::format(
            R"(<mujoco><compiler exactmeshinertia="true" convexhull="false" boundmass="0"/>)"
            R"(<option gravity="0 0 {:.17g}"/><default><geom contype="0" conaffinity="0"/></default>)"
            R"(<asset>{}</asset><worldbody><body>{}{}</body>{}</worldbody></mujoco>)",
            -standard_gravity, assets_, hinge, load_, hollow);
    }

  private:
    static std::string words(const Vec3& v) {
        return fmt::format("{:.17g} {:.17g} {:.17g}", v.x(), v.y(), v.z());
    }

    void add_item(const Item& item) {
        const std::vector<body::Part>& parts = item.body->body.parts;
        for (const body::Part& part : parts) {
            const double replaced =
                part.parent < 0 ? 0 : parts[static_cast<std::size_t>(part.parent)].density_kg_m3;
            const double density = part.density_kg_m3 - replaced;
            if (density == 0) continue;
            const std::string name = fmt::format("mesh{}", meshes_++);
            // The engine keeps corners in single precision; about the body's own origin that costs some
            // nanometres.
            std::string corners, faces;
            for (const Vec3& v : part.mesh.vertices) corners += words(v) + " ";
            for (const Triangle& t : part.mesh.triangles) faces += fmt::format("{} {} {} ", t[0], t[1], t[2]);
            assets_ += fmt::format(R"(<mesh name="{}" vertex="{}" face="{}"/>)", name, corners, faces);
            const Eigen::Quaterniond turn(item.pose.linear());
            (density > 0 ? load_ : hollow_) += fmt::format(
                R"(<geom type="mesh" mesh="{}" density="{:.17g}" pos="{}" quat="{:.17g} {}"/>)", name,
                std::abs(density), words(item.pose.translation()), turn.w(), words(turn.vec()));
        }
        // The engine knows one density a mesh: what parts of the flesh have more or less of hangs at their
        // middles.
        for (const body::RegionFlesh& region : item.body->body.flesh_by_region) {
            const double kg = (region.density_kg_m3 - parts.front().density_kg_m3) * region.volume.amount;
            if (kg == 0) continue;
            (kg > 0 ? load_ : hollow_) +=
                fmt::format(R"(<geom type="sphere" size="0.01" mass="{:.17g}" pos="{}"/>)", std::abs(kg),
                            words(item.pose * region.volume.centre));
        }
    }

    /// Pins of steel, and what is left of the mass at the hub.
    void add_fork(const Fork& fork) {
        double left_kg = fork.mass_kg;
        for (const Tine& tine : fork.tines) {
            const double y = tine.radius_m * std::cos(tine_clock(fork, tine)),
                         z = tine.radius_m * std::sin(tine_clock(fork, tine));
            const double tip =
                fork.points == Facing::point ? fork.at_m + tine.length_m : fork.at_m - tine.length_m;
            load_ += fmt::format(R"(<geom type="cylinder" size="{:.17g}" fromto="{} {}" density="7900"/>)",
                                 tine.diameter_m / 2, words({fork.at_m, y, z}), words({tip, y, z}));
            left_kg -= std::numbers::pi / 4 * tine.diameter_m * tine.diameter_m * tine.length_m * 7900;
        }
        load_ += fmt::format(R"(<geom type="sphere" size="0.01" mass="{:.17g}" pos="{}"/>)", left_kg,
                             words({fork.at_m, 0, 0}));
    }

    std::string assets_, load_, hollow_;
    int meshes_ = 0;
};

using Model = std::unique_ptr<mjModel, void (*)(mjModel*)>;
using Data = std::unique_ptr<mjData, void (*)(mjData*)>;

Model compiled(const std::string& xml) {
    const std::unique_ptr<mjVFS, void (*)(mjVFS*)> files(new mjVFS, [](mjVFS* vfs) {
        mj_deleteVFS(vfs);
        delete vfs;
    });
    mj_defaultVFS(files.get());
    mj_makeEmptyFileVFS(files.get(), "load.xml", static_cast<int>(xml.size()));
    std::memcpy(files->filedata[mj_findFileVFS(files.get(), "load.xml")], xml.data(), xml.size());
    std::array<char, 1000> error{};
    Model model(mj_loadXML("load.xml", files.get(), error.data(), static_cast<int>(error.size())),
                mj_deleteModel);
    EXPECT_TRUE(model) << error.data();
    return model;
}

/// Largest difference of the two curves, as a share of the peak of gravity's torque.
double curve_difference(const Assembly& a) {
    const Balance balance = analyse(a).balance;
    const Model model = compiled(Scene(a).xml());
    if (!model) return INFINITY;
    double mass_kg = model->body_mass[1];
    if (model->nv > 1) mass_kg -= model->body_mass[2];
    EXPECT_NEAR(mass_kg / balance.mass_kg, 1, 1e-6);

    const Data data(mj_makeData(model.get()), mj_deleteData);
    double worst = 0;
    for (const auto& [turn_deg, torque_n_m] : balance.curve) {
        std::fill_n(data->qpos, model->nq, turn_deg * degree);
        mj_forward(model.get(), data.get());
        double expected = data->qfrc_bias[0];
        if (model->nv > 1) expected -= data->qfrc_bias[1];
        worst = std::max(worst, std::abs(torque_n_m - balance.friction_torque_n_m - expected));
    }
    EXPECT_GT(balance.gravity_torque_peak_n_m, 0.01) << "there must be something to compare";
    return worst / balance.gravity_torque_peak_n_m;
}

/// A rig with uneven forks and a counterweight, to put an item on.
Assembly rig() {
    Assembly a = test::good_load();
    a.items.clear();
    a.forks[0].tines.pop_back();
    a.forks[1].tines[0].clock_rad = 100 * degree;
    a.forks[1].tines[0].radius_m = 0.045;
    a.counterweights = {
        {.at_m = 0.1, .mass_kg = 0.3, .radius_m = 0.07, .clock_rad = 210 * degree, .diameter_m = 0.04}};
    return a;
}

Item seated(std::string name, body::Body body, const Seat& seat) {
    Item item = test::item(std::move(name), std::move(body), 0);
    item.seat = seat;
    item.pose = seat_pose(seat, item.body->bounds.min().x(), item.body->bounds.max().x());
    return item;
}

}  // namespace

TEST(TorqueCurve, OfAnEllipsoidOffTheAxis) {
    Assembly a = rig();
    a.items = {test::item("roast", test::flesh(test::ellipsoid_mesh(0.12, 0.07, 0.05, {0.01, 0.02, -0.004})),
                          0.34, {0.004, 0.011})};
    EXPECT_LT(curve_difference(a), 1e-6);
}

TEST(TorqueCurve, OfTwoItemsWithBoneAndCavity) {
    Assembly a = rig();
    body::Body body = test::flesh(test::ellipsoid_mesh(0.09, 0.06, 0.05, {0, 0.01, 0}));
    body = test::with_part(body, body::PartKind::cavity,
                           test::ellipsoid_mesh(0.05, 0.02, 0.03, {0.01, 0.02, 0}), 0, 0);
    body = test::with_part(body, body::PartKind::bone,
                           test::ellipsoid_mesh(0.04, 0.008, 0.01, {0, -0.03, 0.01}), 1300, 0);
    const RodLine slanted{.from = {0.010, -0.006}, .to = {-0.004, 0.012}};
    a.items = {
        seated("one", body, {.at_m = 0.2, .facing = Facing::point, .turn_rad = 25 * degree, .line = slanted}),
        seated("other", body,
               {.at_m = 0.42, .facing = Facing::drive, .turn_rad = -70 * degree, .line = slanted})};
    EXPECT_LT(curve_difference(a), 1e-6);
}

TEST(TorqueCurve, OfAScannedBunny) {
    Assembly a = rig();
    TriangleMesh mesh = read_mesh(EVENSPIT_DATA_DIR "/bunny00.off").mesh;
    // Whatever the scan's unit, a body a foot long.
    mesh = scaled(mesh, 0.3 / bounds(mesh).sizes().maxCoeff());
    mesh = transformed(mesh, Pose(Eigen::Translation3d(-bounds(mesh).center())));
    body::Body body =
        body::solid_body(std::move(mesh), {.name = "bunny", .mass_kg = 4.1, .density_kg_m3 = {}});
    a.items = {seated("bunny", std::move(body),
                      {.at_m = 0.33,
                       .facing = Facing::drive,
                       .turn_rad = 40 * degree,
                       .line = {{0.01, 0.02}, {-0.015, 0.005}}})};
    EXPECT_LT(curve_difference(a), 1e-6);
}

TEST(TorqueCurve, OfATurkey) {
    for (const Facing facing : {Facing::point, Facing::drive}) {
        Assembly a = rig();
        a.items = {seated(
            "turkey",
            body::make_bird(
                {.species = "turkey", .mass_kg = 5.9, .trussing = body::Trussing::tight, .stuffing_kg = 0}),
            {.at_m = 0.34, .facing = facing, .turn_rad = 15 * degree, .line = {{0, 0.01}, {0.005, -0.02}}})};
        EXPECT_LT(curve_difference(a), 1e-6);
    }
}

}  // namespace evenspit
