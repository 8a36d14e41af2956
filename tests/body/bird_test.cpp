// SPDX-License-Identifier: MIT
#include "body/bird.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "geometry/solid_check.h"
#include "units/error.h"

namespace evenspit {
namespace {

Body turkey(double mass_kg) {
    return make_bird({.species = "turkey", .mass_kg = mass_kg});
}

double share(const Body& body, std::initializer_list<const char*> names) {
    double sum = 0;
    for (const PartShare& part : body.shares) {
        if (std::find(names.begin(), names.end(), part.name) != names.end()) sum += part.mass_kg;
    }
    return sum / mass_moments(body).amount;
}

TEST(Bird, EveryPartBoundsASolid) {
    for (const Part& part : turkey(5.9).parts) {
        const SolidReport report = check_solid(part.mesh);
        EXPECT_TRUE(report.ok()) << part.name << ": " << report.found;
        EXPECT_EQ(report.components, 1) << part.name;
    }
}

TEST(Bird, WeighsWhatTheScaleSays) {
    for (const double kg : {2.6, 5.9, 11.0, 19.5}) {
        const Body body = turkey(kg);
        EXPECT_NEAR(mass_moments(body).amount, kg, 1e-9 * kg);
        EXPECT_EQ(body.mass_model, MassModel::scale_weight);
        // The size was chosen so that flesh keeps its natural density.
        EXPECT_NEAR(body.parts[0].density_kg_m3, 1054.6, 1);
    }
}

TEST(Bird, BalancedLeftAndRight) {
    EXPECT_LT(std::abs(mass_moments(turkey(5.9)).centre.y()), 1e-9);
}

TEST(Bird, HeavyNearTheLineThroughItsOpenings) {
    EXPECT_LT(std::abs(mass_moments(turkey(5.9)).centre.z()), 0.010);
}

// Parts of whole birds: USDA SR26 05215–05228, 05740, 05738 (5.0 kg birds: 35.4, 22.5, 14.7, 13.5, 13.9 %)
// and BIO Web Conf. 17:00259 (2020) table 2 (7.1 and 8.0 kg: 37.4, 21.0, 16.6, 11.5, 11.4 %, neck 2.1 %).
TEST(Bird, PartsWeighWhatPartsOfTurkeysDo) {
    const Body body = turkey(5.9);
    const auto within = [](double value, double low, double high) { return value >= low && value <= high; };
    EXPECT_PRED3(within, share(body, {"breast"}), 0.350, 0.375);
    EXPECT_PRED3(within, share(body, {"back", "tail"}), 0.210, 0.225);
    EXPECT_PRED3(within, share(body, {"left thigh", "right thigh"}), 0.147, 0.166);
    EXPECT_PRED3(within, share(body, {"left drumstick", "right drumstick"}), 0.115, 0.135);
    EXPECT_PRED3(within, share(body, {"left wing", "right wing"}), 0.110, 0.140);
    EXPECT_PRED3(within, share(body, {"neck"}), 0.015, 0.030);
}

TEST(Bird, SharesAddUpToTheWhole) {
    const Body body = turkey(5.9);
    const Moments mass = mass_moments(body);
    double sum = 0;
    Vec3 first = Vec3::Zero();
    for (const PartShare& part : body.shares) {
        sum += part.mass_kg;
        first += part.mass_kg * part.centre_m;
    }
    EXPECT_NEAR(sum, mass.amount, 1e-9);
    // Shares are counted on a lattice, the whole is integrated over its surface.
    EXPECT_LT((first / sum - mass.centre).norm(), 0.5e-3);
}

// About 40 × 25 × 20 cm at 13 lb: from memory.
TEST(Bird, SizeOfATurkey) {
    const Vec3 size = bounds(turkey(5.9).parts[0].mesh).sizes();
    EXPECT_NEAR(size.x(), 0.40, 0.04);
    EXPECT_NEAR(size.y(), 0.25, 0.03);
    EXPECT_NEAR(size.z(), 0.19, 0.025);
}

TEST(Bird, OriginMidwayBetweenTheOpenings) {
    const Body body = turkey(5.9);
    const auto cavity = std::find_if(body.parts.begin(), body.parts.end(),
                                     [](const Part& p) { return p.kind == PartKind::cavity; });
    ASSERT_NE(cavity, body.parts.end());
    EXPECT_NEAR(bounds(cavity->mesh).center().x(), 0, 1e-12);
    EXPECT_EQ(cavity->density_kg_m3, 0);
    EXPECT_EQ(cavity->parent, -1);
}

// A rod through the openings meets no flesh; a line through the breast does.
TEST(Bird, OpenFromVentToNeck) {
    const auto prepared = prepare(turkey(5.9));
    EXPECT_TRUE(prepared->queries[0].inside({-0.5, 0, 0}, {0.5, 0, 0}).empty());
    EXPECT_FALSE(prepared->queries[0].inside({-0.5, 0.03, 0.06}, {0.5, 0.03, 0.06}).empty());
    const std::size_t cavity =
        static_cast<std::size_t>(std::find_if(prepared->body.parts.begin(), prepared->body.parts.end(),
                                              [](const Part& p) { return p.kind == PartKind::cavity; }) -
                                 prepared->body.parts.begin());
    const auto inside = prepared->queries[cavity].inside({-0.5, 0, 0}, {0.5, 0, 0});
    ASSERT_EQ(inside.size(), 1U);
    EXPECT_GT(inside[0].length(), 0.2);
    const auto wall =
        std::find(prepared->body.region_names.begin(), prepared->body.region_names.end(), "cavity wall");
    ASSERT_NE(wall, prepared->body.region_names.end());
    const auto wall_index = static_cast<std::uint8_t>(wall - prepared->body.region_names.begin());
    EXPECT_GT(std::count(prepared->body.parts[0].regions.begin(), prepared->body.parts[0].regions.end(),
                         wall_index),
              1000);
}

TEST(Bird, BonesLieInTheFleshAndApart) {
    for (const double kg : {2.6, 5.9, 19.5}) {
        const auto prepared = prepare(turkey(kg));
        const auto& parts = prepared->body.parts;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (parts[i].kind != PartKind::bone) continue;
            EXPECT_EQ(parts[i].parent, 0);
            for (const Vec3& v : parts[i].mesh.vertices) {
                ASSERT_TRUE(prepared->queries[0].contains(v)) << parts[i].name;
                ASSERT_GT(prepared->queries[0].closest(v).distance, 1e-3) << parts[i].name;
                for (std::size_t j = 0; j < parts.size(); ++j) {
                    if (j == i || j == 0) continue;
                    ASSERT_FALSE(prepared->queries[j].contains(v))
                        << parts[i].name << " in " << parts[j].name;
                }
            }
        }
    }
}

TEST(Bird, LeftIsTheBirdsOwnLeft) {
    // On its back with the neck ahead, a bird has its left on the −y side (left = up × ahead with its own up,
    // −z).
    for (const PartShare& part : turkey(5.9).shares) {
        if (part.name.starts_with("left")) {
            EXPECT_LT(part.centre_m.y(), -0.03) << part.name;
        }
        if (part.name.starts_with("right")) {
            EXPECT_GT(part.centre_m.y(), 0.03) << part.name;
        }
    }
}

TEST(Bird, StuffingWeighsInTheCavity) {
    const Body empty = turkey(5.9);
    const Body stuffed = make_bird({.species = "turkey", .mass_kg = 5.9, .stuffing_kg = 0.6});
    EXPECT_NEAR(mass_moments(stuffed).amount, 6.5, 1e-9);
    const Part& stuffing = stuffed.parts.back();
    EXPECT_EQ(stuffing.kind, PartKind::stuffing);
    EXPECT_NEAR(stuffing.density_kg_m3, 750, 1e-6);
    const auto prepared = prepare(stuffed);
    for (const Vec3& v : stuffing.mesh.vertices) {
        EXPECT_TRUE(prepared->queries[static_cast<std::size_t>(stuffing.parent)].contains(v));
        EXPECT_FALSE(prepared->queries[0].contains(v));
    }
    EXPECT_EQ(empty.parts.size() + 1, stuffed.parts.size());
    EXPECT_THROW(make_bird({.species = "turkey", .mass_kg = 5.9, .stuffing_kg = 4}), InputError);
}

TEST(Bird, GrowsSmoothlyWithItsWeight) {
    double previous = 0;
    for (int i = 0; i < 12; ++i) {
        const double z = mass_moments(turkey(5.9 + 0.005 * i)).centre.z();
        if (i > 0) {
            EXPECT_LT(std::abs(z - previous), 0.1e-3);
        }
        previous = z;
    }
}

TEST(Bird, RefusesWhatItDoesNotKnow) {
    try {
        make_bird({.species = "turky", .mass_kg = 5});
        FAIL();
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints()[0].key, "shape");
        EXPECT_NE(error.complaints()[0].expected.find("turkey"), std::string::npos);
    }
    try {
        make_bird({.species = "turkey", .mass_kg = 300});
        FAIL();
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints()[0].key, "mass");
        EXPECT_NE(error.complaints()[0].expected.find("20"), std::string::npos);
    }
    EXPECT_THROW(make_bird({.species = "turkey", .mass_kg = -1}), InputError);
    EXPECT_THROW(make_bird({.species = "turkey", .mass_kg = std::nan("")}), InputError);
}

}  // namespace
}  // namespace evenspit
