// SPDX-License-Identifier: MIT
#include "scene/scene.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <string>

#include <gtest/gtest.h>

#include "load/load_file.h"
#include "scene/colouring.h"
#include "scene/cooker_load.h"

namespace evenspit::scene {
namespace {

using test::load_in_cooker;

TEST(Scene, HasAPieceOfEverything) {
    const Assembly load = load_in_cooker();
    SceneMaker maker;
    const Scene scene = maker.scene(load, analyse(load));
    for (const Matter matter :
         {Matter::skin, Matter::bone, Matter::rod, Matter::fork, Matter::weight, Matter::motor,
          Matter::support, Matter::coal, Matter::ember, Matter::wall, Matter::ground, Matter::envelope}) {
        const auto found = std::find_if(scene.pieces.begin(), scene.pieces.end(),
                                        [&](const Piece& p) { return p.matter == matter; });
        ASSERT_NE(found, scene.pieces.end()) << static_cast<int>(matter);
        EXPECT_GT(found->shape->triangle_count(), 0U);
    }
    EXPECT_TRUE(scene.around().contains(Vec3(0.7, 0, 0)));
    EXPECT_TRUE(scene.around().contains(Vec3(0.34, 0, -0.33)));
}

TEST(Scene, PlaneWallsAreDrawnToTheirFreeSideOnly) {
    Assembly load = load_in_cooker();
    load.cooker.surfaces = {
        {.name = "front wall", .shape = PlaneShape{{0, -0.2, 0}, Vec3::UnitY()}, .temperature_k = {}},
        {.name = "right wall", .shape = PlaneShape{{0.6, 0, 0}, -Vec3::UnitX()}, .temperature_k = {}}};
    SceneMaker maker;
    const Scene scene = maker.scene(load, analyse(load));
    for (std::size_t wall = 0; wall < 2; ++wall) {
        const auto found = std::find_if(scene.pieces.begin(), scene.pieces.end(), [&](const Piece& p) {
            return p.thing == Thing{Thing::Kind::surface, wall};
        });
        ASSERT_NE(found, scene.pieces.end());
        EXPECT_EQ(found->matter, Matter::wall);
        const auto& shape = std::get<PlaneShape>(load.cooker.surfaces[wall].shape);
        EXPECT_EQ(found->free_side, shape.normal);
        EXPECT_DOUBLE_EQ(found->free_from_m, shape.normal.dot(shape.point));
        for (const ShapeMesh::Corner& corner : found->shape->corners) {
            EXPECT_LE(corner.at[0], 0.6 + 1e-6);
            EXPECT_GE(corner.at[1], -0.2 - 1e-6);
        }
    }
    // Another wall moved: this one ends elsewhere.
    load.cooker.surfaces[1].shape = PlaneShape{{0.5, 0, 0}, -Vec3::UnitX()};
    const Scene moved = maker.scene(load, analyse(load));
    for (const Piece& piece : moved.pieces) {
        if (!(piece.thing == Thing{Thing::Kind::surface, 0})) continue;
        for (const ShapeMesh::Corner& corner : piece.shape->corners) EXPECT_LE(corner.at[0], 0.5 + 1e-6);
    }
}

TEST(Scene, AJointShowsItsCutFacesBonesAndFat) {
    const auto tissues = [](const char* sample) {
        const Assembly load = read_load(std::string(EVENSPIT_SOURCE_DIR "/samples/") + sample + ".toml",
                                        EVENSPIT_SOURCE_DIR "/models");
        const Scene scene = SceneMaker().scene(load, analyse(load));
        std::map<Tissue, int> count;
        for (const Piece& p : scene.pieces) {
            if (p.matter != Matter::skin) continue;
            EXPECT_TRUE(p.shape->tissues.empty() || p.shape->tissues.size() == p.shape->corners.size());
            for (const Tissue tissue : p.shape->tissues) ++count[tissue];
        }
        return count;
    };
    const auto lamb = tissues("leg-of-lamb");
    EXPECT_GT(lamb.at(Tissue::cut_flesh), 100);
    EXPECT_GT(lamb.at(Tissue::bone), 10);
    EXPECT_GT(lamb.at(Tissue::skin), lamb.at(Tissue::cut_flesh)) << "most is skin";
    EXPECT_TRUE(tissues("harvest-turkey").empty()) << "a bird has skin all over";
}

TEST(Scene, CoalsLieAsABankInTheirBox) {
    const Assembly load = load_in_cooker();
    const auto& box = std::get<BoxShape>(load.cooker.surfaces[0].shape);
    const Scene scene = SceneMaker().scene(load, analyse(load));
    const auto width_at = [&](Matter matter, double from, double to) {
        double width = 0;
        for (const Piece& p : scene.pieces) {
            if (p.matter != matter) continue;
            for (const ShapeMesh::Corner& c : p.shape->corners) {
                if (c.at[2] >= from && c.at[2] <= to) width = std::max(width, 2 * std::abs(double(c.at[1])));
            }
        }
        return width;
    };
    const double low = box.min.z(), high = box.max.z();
    const double foot = width_at(Matter::ember, low - 1e-6, low + 0.001),
                 head = width_at(Matter::ember, high - 0.02, high);
    EXPECT_LT(head, foot - 0.03);
    EXPECT_GT(head, 0.6 * foot);
    EXPECT_LE(foot, box.max.y() - box.min.y());
    EXPECT_LE(width_at(Matter::coal, high + 0.006, high + 1), 0) << "nothing stands out of the top";
    EXPECT_GT(width_at(Matter::coal, low, low + 0.03), head) << "lumps lie on the slopes";
}

TEST(Scene, ShowsWhatStrikesAndWhere) {
    const Assembly load = load_in_cooker();
    const Analysis analysis = analyse(load);
    SceneMaker maker;
    EXPECT_TRUE(maker.scene(load, analysis).struck.empty());
    const Thing item{Thing::Kind::item, 0};
    const Scene scene =
        maker.scene(load, analysis, {.strikes = {{0, item, 0.30, 0.36, Vec3(0.33, 0, -0.1)}}});
    const auto found = std::find_if(scene.pieces.begin(), scene.pieces.end(),
                                    [](const Piece& p) { return p.matter == Matter::strike; });
    ASSERT_NE(found, scene.pieces.end());
    double from = 1, to = 0;
    for (const ShapeMesh::Corner& corner : found->shape->corners) {
        from = std::min<double>(from, corner.at[0]);
        to = std::max<double>(to, corner.at[0]);
        const double radius = std::hypot(corner.at[1], corner.at[2]);
        EXPECT_LE(radius, analysis.clearance.outline.radius_at(corner.at[0]) + 1e-4);
    }
    EXPECT_NEAR(from, 0.30, 1e-6);
    EXPECT_NEAR(to, 0.36, 1e-6);
    ASSERT_EQ(scene.struck.size(), 2U);
    EXPECT_EQ(scene.struck[0].thing, item);
    EXPECT_EQ(scene.struck[1].thing, (Thing{Thing::Kind::surface, 0}));
    EXPECT_EQ(scene.struck[1].at, Vec3(0.33, 0, -0.1));
}

TEST(Scene, AGhostIsWhatTurnsAndSharesItsShapes) {
    Assembly load = load_in_cooker();
    SceneMaker maker;
    const Scene scene = maker.scene(load, analyse(load));
    load.items[0].pose = Pose(Eigen::Translation3d(0.2, 0, 0));
    const std::vector<Piece> ghost = maker.ghost(load);
    ASSERT_FALSE(ghost.empty());
    bool skin = false;
    for (const Piece& piece : ghost) {
        EXPECT_EQ(piece.matter, Matter::ghost);
        EXPECT_EQ(piece.thing, Thing{});
        EXPECT_TRUE(piece.turns);
        for (const Piece& real : scene.pieces) {
            if (real.shape != piece.shape) continue;
            skin = true;
            EXPECT_FALSE(real.pose.isApprox(piece.pose));
        }
    }
    EXPECT_TRUE(skin);
}

TEST(Scene, MovesShareWhatWasMade) {
    const Assembly load = load_in_cooker();
    SceneMaker maker;
    const auto skin = [](const Scene& scene) {
        return *std::find_if(scene.pieces.begin(), scene.pieces.end(),
                             [](const Piece& p) { return p.matter == Matter::skin; });
    };
    const Piece before = skin(maker.scene(load, analyse(load)));
    Assembly moved = load;
    moved.items[0].pose = Pose(Eigen::Translation3d(0.2, 0, 0));
    const Piece after = skin(maker.scene(moved, analyse(moved)));
    EXPECT_EQ(before.shape, after.shape);
    EXPECT_FALSE(before.pose.isApprox(after.pose));
}

TEST(Scene, TheSkinsColoursTellItsDistanceFromTheRod) {
    Assembly load = load_in_cooker();
    load.items[0].pose = Pose(Eigen::Translation3d(0.34, 0.010, -0.020));
    const Analysis analysis = analyse(load);
    SceneMaker maker;
    EXPECT_FALSE(maker.scene(load, analysis).field);
    const Scene scene = maker.scene(load, analysis, {.colouring = Colouring::radius});
    ASSERT_TRUE(scene.field);
    EXPECT_EQ(scene.field->dimension, Dimension::length);
    double least = HUGE_VAL, most = 0;
    for (const Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin) {
            EXPECT_FALSE(piece.values) << "only the skin";
            continue;
        }
        ASSERT_TRUE(piece.values);
        ASSERT_EQ(piece.values->size(), piece.shape->corners.size());
        for (std::size_t c = 0; c < piece.values->size(); ++c) {
            const auto& at = piece.shape->corners[c].at;
            const double expected = std::hypot(at[1] + 0.010, at[2] - 0.020);
            EXPECT_NEAR((*piece.values)[c], expected, 1e-6);
            least = std::min(least, expected);
            most = std::max(most, expected);
        }
    }
    EXPECT_NEAR(scene.field->from, least, 1e-6);
    EXPECT_NEAR(scene.field->to, most, 1e-6);
    // The corner at y = 50, z = -50 mm goes to 60 and -70.
    EXPECT_NEAR(most, std::hypot(0.060, 0.070), 1e-6);
}

TEST(Scene, TheGapsColoursTellTheRoomToTheWallsSagCounted) {
    const Assembly load = load_in_cooker();
    Analysis analysis = analyse(load);
    ASSERT_FALSE(analysis.clearance.surfaces.empty());
    analysis.clearance.surfaces.resize(1);
    analysis.clearance.surfaces[0].on_surface = {0.3, 0, -0.2};
    analysis.rod.sag = {{0, 0.004}, {1, 0.004}};
    const std::vector<std::vector<Vec2>> walls = {{{0, 0.2}, {1, 0.2}}};
    SceneMaker maker;
    const Scene scene = maker.scene(load, analysis, {.colouring = Colouring::gap, .walls = walls});
    ASSERT_TRUE(scene.field);
    EXPECT_EQ(scene.field->name, "gap to the cooker");
    EXPECT_NEAR(field_value(*scene.field, {0.3, 0.03, 0.04}), 0.2 - 0.004 - 0.05, 1e-9);
    for (const Piece& piece : scene.pieces) {
        if (piece.matter != Matter::skin) continue;
        for (std::size_t c = 0; c < piece.values->size(); ++c) {
            const auto& own = piece.shape->corners[c].at;
            const Vec3 at = piece.pose * Vec3(own[0], own[1], own[2]);
            EXPECT_NEAR((*piece.values)[c], 0.196 - std::hypot(at.y(), at.z()), 1e-6);
        }
    }
    EXPECT_FALSE(maker.scene(load, analysis, {.colouring = Colouring::gap}).field) << "no walls are known";
}

TEST(FieldValue, IsTheDistanceToTheNearestTinesSkin) {
    Field field;
    field.what = Colouring::cover;
    field.tines = {{{0, 0, 0}, {0.1, 0, 0}, 0.003}, {{0, 0.05, 0}, {0.1, 0.05, 0}, 0.004}};
    EXPECT_NEAR(field_value(field, {0.05, 0, 0.01}), 0.007, 1e-12);
    EXPECT_NEAR(field_value(field, {0.05, 0.06, 0}), 0.006, 1e-12);
    EXPECT_NEAR(field_value(field, {0.13, 0, 0.04}), 0.05 - 0.003, 1e-12) << "past the tip";
}

TEST(Scene, ColoursFollowAMove) {
    Assembly load = load_in_cooker();
    SceneMaker maker;
    const double before = maker.scene(load, analyse(load), {.colouring = Colouring::radius}).field.value().to;
    load.items[0].pose = Pose(Eigen::Translation3d(0.34, 0.030, 0));
    EXPECT_GT(maker.scene(load, analyse(load), {.colouring = Colouring::radius}).field.value().to,
              before + 0.02);
    load.items.clear();
    EXPECT_FALSE(maker.scene(load, analyse(load), {.colouring = Colouring::radius}).field)
        << "nothing to colour";
}

/// A body whose skin has moved in by 4 mm everywhere.
body::Matter shrunk_matter(const Box3& box) {
    body::FleshField flesh;
    flesh.origin = box.min();
    flesh.spacing_m = 0.01;
    flesh.count = {1, 1, 1};
    flesh.values = {{1, 0.004F}};
    return {.mass_kg = 1, .flesh = std::make_shared<const body::FleshField>(flesh)};
}

TEST(Scene, DrawsWhatHasMovedInSmaller) {
    Assembly load = load_in_cooker();
    const Analysis analysis = analyse(load);
    const auto skin = [](const Scene& scene) {
        return *std::find_if(scene.pieces.begin(), scene.pieces.end(),
                             [](const Piece& p) { return p.matter == Matter::skin; });
    };
    SceneMaker maker;
    const Piece raw = skin(maker.scene(load, analysis));
    load.items[0].matter = shrunk_matter(load.items[0].body->bounds);
    const Piece cooked = skin(maker.scene(load, analysis));
    ASSERT_EQ(raw.shape->corners.size(), cooked.shape->corners.size());
    for (std::size_t c = 0; c < raw.shape->corners.size(); ++c) {
        const auto& was = raw.shape->corners[c];
        for (std::size_t axis = 0; axis < 3; ++axis)
            EXPECT_NEAR(cooked.shape->corners[c].at[axis], was.at[axis] - 0.004F * was.normal[axis], 1e-6F);
    }
    EXPECT_EQ(skin(maker.scene(load, analysis)).shape, cooked.shape) << "made once";
    load.items[0].matter.reset();
    EXPECT_EQ(skin(maker.scene(load, analysis)).shape, raw.shape);
}

/// As hot everywhere, all round a body.
std::shared_ptr<const HeatCells> heat_all_over(const Box3& box, float kelvin) {
    HeatCells cells;
    cells.origin = box.min() - box.sizes();
    cells.spacing_m = 3 * box.diagonal().norm();
    cells.count = {2, 2, 2};
    cells.temperature_k.assign(8, kelvin);
    return std::make_shared<const HeatCells>(cells);
}

TEST(Scene, CutFacesBrownInTheCook) {
    Assembly load = read_load(EVENSPIT_SOURCE_DIR "/samples/leg-of-lamb.toml", EVENSPIT_SOURCE_DIR "/models");
    const Analysis analysis = analyse(load);
    SceneMaker maker;
    const auto count = [&](float kelvin) {
        const Box3& box = load.items[0].body->bounds;
        load.items[0].matter = shrunk_matter(box);
        std::map<Tissue, int> tissues;
        for (const Piece& p : maker.scene(load, analysis, {.heat = {heat_all_over(box, kelvin)}}).pieces) {
            if (p.matter != Matter::skin) continue;
            for (const Tissue tissue : p.shape->tissues) ++tissues[tissue];
        }
        return tissues;
    };
    auto cool = count(330), hot = count(360);
    EXPECT_GT(cool[Tissue::cut_flesh], 100);
    EXPECT_EQ(cool[Tissue::browned_flesh], 0);
    EXPECT_EQ(hot[Tissue::cut_flesh], 0);
    EXPECT_EQ(hot[Tissue::browned_flesh], cool[Tissue::cut_flesh]);
    EXPECT_EQ(hot[Tissue::bone], cool[Tissue::bone]);
}

/// As hot as a place is high, all round a box.
std::shared_ptr<const HeatCells> heat_by_height(const Item& item) {
    HeatCells cells;
    cells.spacing_m = 0.02;
    cells.origin = item.body->bounds.min() - Vec3::Constant(0.03);
    const Vec3 size = item.body->bounds.sizes() + Vec3::Constant(0.06);
    for (int axis = 0; axis < 3; ++axis) cells.count[axis] = std::size_t(std::ceil(size[axis] / 0.02)) + 1;
    for (std::size_t z = 0; z < cells.count[2]; ++z) {
        for (std::size_t n = 0; n < cells.count[0] * cells.count[1]; ++n)
            cells.temperature_k.push_back(
                static_cast<float>(300 + 1000 * (cells.origin.z() + 0.02 * double(z))));
    }
    const TriangleMesh& mesh = item.body->body.parts.front().mesh;
    for (const Triangle& t : mesh.triangles) {
        const double x = (mesh.corner(t, 0) + mesh.corner(t, 1) + mesh.corner(t, 2)).x() / 3;
        cells.skin_j_m2.push_back(x > item.body->bounds.center().x() ? 3e6F : 1e6F);
    }
    return std::make_shared<const HeatCells>(cells);
}

TEST(Scene, ColoursTellTemperaturesOnOneScaleForAllMoments) {
    Assembly load = load_in_cooker();
    load.items[0].pose = Pose(Eigen::Translation3d(0.34, 0.010, -0.020));
    const Analysis analysis = analyse(load);
    SceneMaker maker;
    EXPECT_FALSE(maker.scene(load, analysis, {.colouring = Colouring::temperature}).field)
        << "nothing is known of the heat";
    const Shown shown{.colouring = Colouring::temperature,
                      .heat = {heat_by_height(load.items[0])},
                      .coldest_k = 277,
                      .hottest_k = 380};
    const Scene scene = maker.scene(load, analysis, shown);
    ASSERT_TRUE(scene.field);
    EXPECT_EQ(scene.field->dimension, Dimension::temperature);
    EXPECT_EQ(scene.field->from, 277);
    EXPECT_EQ(scene.field->to, 380);
    // 20 mm above the item's middle, which hangs 20 mm under the rod.
    EXPECT_NEAR(told_value(scene, {0.34, 0, 0}).value(), 320, 0.01);
    EXPECT_FALSE(told_value(scene, {0.34, 0, 0.5}));
    for (const Piece& piece : scene.pieces) {
        if (!piece.values) continue;
        for (std::size_t c = 0; c < piece.values->size(); ++c)
            EXPECT_NEAR((*piece.values)[c], 300 + 1000 * piece.shape->corners[c].at[2], 0.02);
    }
}

TEST(Scene, ColoursTellTheHeatOfTheSkinOverItsMean) {
    const Assembly load = load_in_cooker();
    SceneMaker maker;
    const auto heat = heat_by_height(load.items[0]);
    const Scene scene = maker.scene(load, analyse(load), {.colouring = Colouring::heat, .heat = {heat}});
    ASSERT_TRUE(scene.field);
    // Halves of a body alike: 3 and 1 of a mean of 2.
    EXPECT_NEAR(scene.field->to, 1.5, 1e-6);
    EXPECT_NEAR(scene.field->from, 0.5, 1e-6);
    const Item& item = load.items[0];
    const Vec3 end(item.body->bounds.max().x(), 0, 0);
    const Vec3 corner = item.pose * Vec3(end.x(), item.body->bounds.max().y(), item.body->bounds.max().z());
    EXPECT_GT(told_value(scene, corner).value(), 1);
    EXPECT_FALSE(told_value(scene, corner + Vec3(0.1, 0, 0)));
}

}  // namespace
}  // namespace evenspit::scene
