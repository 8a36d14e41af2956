// SPDX-License-Identifier: MIT
#include "scan/bird_overlay.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "body/mesher.h"
#include "geometry/moments.h"
#include "made_points.h"

namespace evenspit::scan {
namespace {

double angle_deg(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b)) * 180 / std::numbers::pi;
}

Pose some_pose() {
    Pose pose = Pose::Identity();
    pose.linear() = Eigen::AngleAxisd(1.3, Vec3(1, -2, 0.5).normalized()).toRotationMatrix();
    pose.translation() = Vec3(0.3, 0.1, -0.2);
    return pose;
}

// A turkey somewhat unlike the reference, in its item frame.
TriangleMesh odd_turkey(double scale) {
    body::BirdForm form;
    form.length = 1.06;
    form.thigh_girth = 0.92;
    form.wing_length = 1.1;
    const body::BirdShape shape(form);
    Box3 box = shape.box();
    box.extend(Vec3(box.min() - Vec3::Constant(0.02)));
    box.extend(Vec3(box.max() + Vec3::Constant(0.02)));
    TriangleMesh mesh =
        body::mesh_field([&](const Vec3& p) { return shape.skin(p); }, {.box = box, .spacing = 0.008});
    const double origin = 0.5 * (shape.vent_x() + shape.neck_x());
    for (Vec3& v : mesh.vertices) v = scale * (v - Vec3(origin, 0, 0));
    return mesh;
}

TEST(OverlayBird, FindsEndsSizeAndParts) {
    const double scale = 0.9;
    const Pose pose = some_pose();
    const TriangleMesh turkey = odd_turkey(scale);
    const BirdOverlay bird = overlay_bird(test::sheet_on(transformed(turkey, pose), 4000), std::nullopt);
    EXPECT_TRUE(bird.is_bird());
    const Pose left = bird.to_item * pose;
    EXPECT_LT(angle_deg(left.linear() * Vec3::UnitX(), Vec3::UnitX()), 2);
    EXPECT_LT(angle_deg(left.linear() * Vec3::UnitZ(), Vec3::UnitZ()), 2);
    EXPECT_LT(left.translation().norm(), 0.01);
    EXPECT_GT(bird.confidence, 0.5);
    EXPECT_LT(bird.error, 0.005 * bird.size);
    const Box3 box = bounds(turkey);
    EXPECT_EQ(bird.region(pose * Vec3(0, 0, box.max().z())), body::BirdRegion::breast);
    EXPECT_EQ(bird.region(pose * Vec3(box.center().x(), 0, box.min().z())), body::BirdRegion::back);
    EXPECT_NEAR(bird.skin(pose * Vec3(0, 0, box.max().z() + 0.02)), 0.02, 0.006);
    EXPECT_LT(bird.skin(pose * Vec3::Zero()), 0);
    const TriangleMesh cavity = bird.cavity_piece(0.1, 0.9, 1);
    EXPECT_GT(volume_moments(cavity).amount, 0);
    EXPECT_LT(bounds(cavity).sizes().x(), box.sizes().x());
}

TEST(OverlayBird, KnowsABirdHoweverItLies) {
    const TriangleMesh turkey = odd_turkey(0.9);
    struct Lying {
        double angle_deg;
        Vec3 about;
    };
    // On its left side, on its breast, on its neck.
    for (const Lying& lying :
         {Lying{90, Vec3::UnitX()}, Lying{180, Vec3::UnitX()}, Lying{90, Vec3::UnitY()}}) {
        Pose pose = Pose::Identity();
        pose.linear() = (Eigen::AngleAxisd(0.7, Vec3::UnitZ()) *
                         Eigen::AngleAxisd(lying.angle_deg * M_PI / 180, lying.about))
                            .toRotationMatrix();
        pose.translation() = Vec3(0.1, -0.2, -bounds(transformed(turkey, pose)).min().z());
        // What a walk round the board sees.
        const Sheet seen =
            test::part_of(test::sheet_on(transformed(turkey, pose), 6000),
                          [](const Vec3& p, const Vec3& n) { return p.z() >= 0.02 && n.z() >= -0.4; });
        const BirdOverlay bird = overlay_bird(seen, Board{});
        EXPECT_TRUE(bird.is_bird()) << lying.angle_deg << " about " << lying.about.transpose();
        const Mat3 left = (bird.to_item * pose).linear();
        EXPECT_LT(angle_deg(left * Vec3::UnitX(), Vec3::UnitX()), 3);
        EXPECT_LT(angle_deg(left * Vec3::UnitZ(), Vec3::UnitZ()), 3);
    }
}

TEST(OverlayBird, TellsNothingOfItsNumbersWhereNoBoardAsks) {
    const BirdOverlay bird = overlay_bird(test::sheet_on(odd_turkey(1), 4000), std::nullopt);
    EXPECT_TRUE(bird.changes(Vec3::Zero()).empty());
    EXPECT_TRUE(bird.usual.empty());
}

TEST(OverlayBird, TellsWhatItsNumbersDo) {
    const TriangleMesh turkey = odd_turkey(1);
    const Box3 box = bounds(turkey);
    Board under;
    under.to_board.translation().z() = -box.min().z();
    const BirdOverlay bird = overlay_bird(test::sheet_on(turkey, 4000), under);
    const Vec3 breast(0, 0, box.max().z()), behind(box.min().x(), 0, 0);
    const std::vector<double> changes = bird.changes(breast);
    ASSERT_EQ(changes.size(), bird.usual.size());
    // Turn, shift, size, then the proportions. A bird moved by 3 % of its size has a place as deep inside as
    // if the place had moved back.
    const double step = 0.03 * box.diagonal().norm(), h = 1e-4;
    for (int k = 0; k < 3; ++k) {
        const double slope =
            (bird.skin(breast + h * Vec3::Unit(k)) - bird.skin(breast - h * Vec3::Unit(k))) / (2 * h);
        EXPECT_NEAR(changes[std::size_t(3 + k)], -slope * step, 0.02 * step);
    }
    EXPECT_LT(changes[5], -0.8 * step);
    EXPECT_LT(changes[6], -0.005);
    // What was changed was found: the thigh is slimmer than usual, the bird longer.
    EXPECT_LT(bird.changes(behind)[7], 0);
}

TEST(OverlayBird, AnEggIsNoBird) {
    EXPECT_FALSE(overlay_bird(test::sheet_on(test::roast(), 4000), std::nullopt).is_bird());
}

}  // namespace
}  // namespace evenspit::scan
