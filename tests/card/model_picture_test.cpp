// SPDX-License-Identifier: MIT
#include "card/model_picture.h"

#include <cstdint>
#include <cstring>

#include <gtest/gtest.h>

#include "scene/cooker_load.h"

namespace evenspit::card {
namespace {

constexpr std::size_t corner_bytes = 14;

Vec3 corner_at(const ModelPicture& model, std::size_t n) {
    std::array<std::int16_t, 3> at{};
    std::memcpy(at.data(), model.bytes.data() + corner_bytes * n,
                sizeof at);  // little-endian as this machine
    return model.middle + model.scale_m * Vec3(at[0], at[1], at[2]);
}

TEST(ModelPicture, HoldsTheLoadWithinRounding) {
    const Assembly load = test::load_in_cooker();
    const ModelPicture model = model_picture(load, analyse(load));
    ASSERT_EQ(model.bytes.size(), corner_bytes * model.corners + 12 * model.triangles);
    Box3 turning;
    for (std::size_t n = 0; n < model.corners; ++n) {
        if (model.bytes[corner_bytes * n + 9] == 1) turning.extend(corner_at(model, n));
        EXPECT_LE((corner_at(model, n) - model.middle).norm(), model.reach_m * 1.001);
    }
    // From the rod's square end to its point, and as far up as the box of meat and the weight reach.
    EXPECT_NEAR(turning.min().x(), 0, 1e-3);
    EXPECT_NEAR(turning.max().x(), load.rod.length_m, 1e-3);
    EXPECT_NEAR(turning.max().z(), 0.05, 1e-3);
    for (std::size_t t = 0; t < 3 * model.triangles; ++t) {
        std::uint32_t corner = 0;
        std::memcpy(&corner, model.bytes.data() + corner_bytes * model.corners + 4 * t, sizeof corner);
        ASSERT_LT(corner, model.corners);
    }
}

TEST(ModelPicture, IsThinnedToWhatAPageHolds) {
    const Assembly load = test::lumpy_load();
    EXPECT_LT(model_picture(load, analyse(load), 8'000).triangles, 20'000U)
        << "of 200,000, with coals and hardware";
}

TEST(Still, ShowsSomethingInTheMiddleAndWhiteAtTheRim) {
    const Assembly load = test::load_in_cooker();
    const Still still = still_of(model_picture(load, analyse(load)), 160, 90);
    ASSERT_EQ(still.rgb.size(), 160U * 90U * 3U);
    const auto at = [&](std::size_t x, std::size_t y) { return still.rgb[3 * (160 * y + x) + 2]; };
    EXPECT_EQ(at(0, 0), 255);
    EXPECT_EQ(at(159, 89), 255);
    std::size_t inked = 0;
    for (std::size_t n = 0; n < 160U * 90U; ++n) inked += still.rgb[3 * n + 2] < 250 ? 1 : 0;
    EXPECT_GT(inked, 1000U);
}

}  // namespace
}  // namespace evenspit::card
