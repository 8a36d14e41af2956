// SPDX-License-Identifier: MIT
#include "body/bird.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "body/composition.h"
#include "geometry/solid_check.h"
#include "units/error.h"

namespace evenspit::body {
namespace {

Body turkey(double mass_kg) {
    return make_bird({.species = "turkey", .mass_kg = mass_kg});
}

double share(const Body& body, std::initializer_list<const char*> names) {
    double sum = 0;
    for (const PartShare& part : body.shares) {
        if (std::find(names.begin(), names.end(), part.region.name) != names.end()) sum += part.mass_kg;
    }
    return sum / mass_moments(body).amount;
}

TEST(Bird, WeighsWhatTheScaleSays) {
    for (const double kg : {2.6, 5.9, 11.0, 19.5}) {
        const Body body = turkey(kg);
        EXPECT_NEAR(mass_moments(body).amount, kg, 1e-9 * kg);
        EXPECT_EQ(body.mass_model, MassModel::scale_weight);
        // The size was chosen so that all keeps its natural density.
        EXPECT_NEAR(body.parts[0].density_kg_m3, 1061.6, 0.2);
        EXPECT_NEAR(body.parts[1].density_kg_m3, bone_density, 1e-9 * bone_density);
    }
}

// Parts of whole birds: USDA SR26 05215–05228, 05740, 05738 (5.0 kg birds: 35.4, 22.5, 14.7, 13.5, 13.9 %)
// and BIO Web Conf. 17:00259 (2020) table 2 (7.1 and 8.0 kg: 37.4, 21.0, 16.6, 11.5, 11.4 %, neck 2.1 %).
TEST(Bird, PartsWeighWhatPartsOfTurkeysDo) {
    const Body body = turkey(5.9);
    const auto within = [](double value, double low, double high) { return value >= low && value <= high; };
    EXPECT_PRED3(within, share(body, {"breast"}), 0.350, 0.375);
    EXPECT_PRED3(within, share(body, {"back"}), 0.210, 0.225);
    EXPECT_PRED3(within, share(body, {"left thigh", "right thigh"}), 0.147, 0.166);
    EXPECT_PRED3(within, share(body, {"left drumstick", "right drumstick"}), 0.115, 0.135);
    EXPECT_PRED3(within, share(body, {"left wing", "right wing"}), 0.110, 0.140);
    EXPECT_PRED3(within, share(body, {"neck"}), 0.015, 0.030);
}

double tissue_share(const Body& body, double Tissues::*tissue) {
    double sum = 0;
    for (const PartShare& part : body.shares) sum += part.tissues.*tissue;
    return sum / mass_moments(body).amount;
}

// Whole raw birds, USDA SR26: bone with gristle, and skin with separable fat, of 05167, 05141, 05148, 05152
// and 05158. A broiler's parts (05053 … 05105) come to 29 % and 20 %, where the whole (05006) has 32 % bone.
// The least birds are shaped with bones a little too thick.
TEST(Bird, TissuesOfTheWholeAreThoseOfTheTables) {
    struct Whole {
        const char* species;
        double kg, bone, skin_and_fat;
    };
    for (const auto& [species, kg, bone, skin_and_fat] :
         {Whole{"turkey", 5.9, 0.29, 0.11}, Whole{"chicken", 1.9, 0.29, 0.20}, Whole{"duck", 2.3, 0.28, 0.38},
          Whole{"goose", 4.6, 0.19, 0.34}, Whole{"guinea fowl", 1.3, 0.17, 0.19},
          Whole{"quail", 0.2, 0.10, 0.14}}) {
        const Body body = make_bird({.species = species, .mass_kg = kg});
        const double bones = tissue_share(body, &Tissues::bone_kg) + tissue_share(body, &Tissues::gristle_kg);
        EXPECT_NEAR(bones, bone, 0.04) << species;
        EXPECT_NEAR(tissue_share(body, &Tissues::skin_and_fat_kg), skin_and_fat, 0.04) << species;
        EXPECT_NEAR(
            bones + tissue_share(body, &Tissues::skin_and_fat_kg) + tissue_share(body, &Tissues::lean_kg), 1,
            1e-12)
            << species;
    }
}

// By part, of turkeys: SR26 refuse of 05219, 05215, 05740, 05738, 05227.
TEST(Bird, TissuesOfTurkeyPartsAreThoseOfTheTables) {
    struct OfPart {
        const char* name;
        double bone, skin_and_fat;
    };
    const Body body = turkey(5.9);
    for (const auto& [name, bone, skin_and_fat] :
         {OfPart{"breast", 0.12, 0.10}, OfPart{"back", 0.50, 0.12}, OfPart{"left thigh", 0.20, 0.10},
          OfPart{"right drumstick", 0.38, 0.06}, OfPart{"left wing", 0.44, 0.16}}) {
        const auto part = std::find_if(body.shares.begin(), body.shares.end(),
                                       [&](const PartShare& s) { return s.region.name == name; });
        ASSERT_NE(part, body.shares.end());
        EXPECT_NEAR((part->tissues.bone_kg + part->tissues.gristle_kg) / part->mass_kg, bone, 1e-9) << name;
        EXPECT_NEAR(part->tissues.skin_and_fat_kg / part->mass_kg, skin_and_fat, 1e-9) << name;
        EXPECT_NEAR(part->tissues.all_kg(), part->mass_kg, 1e-12) << name;
    }
}

// Each region's flesh has the density that Choi & Okos give its tissues, each at 4 °C, and together they make
// the flesh's mean.
TEST(Bird, FleshOfEachRegionIsAsDenseAsItsTissues) {
    const Body body = turkey(5.9);
    double kg = 0, volume = volume_moments(body.parts[0].mesh).amount;
    for (const Part& part : body.parts) {
        if (part.kind == PartKind::bone) volume -= volume_moments(part.mesh).amount;
    }
    const double skin = composition_density(raw_food("05169").composition, 4);
    ASSERT_EQ(body.flesh_by_region.size(), body.shares.size());
    for (std::size_t i = 0; i < body.shares.size(); ++i) {
        const RegionFlesh& region = body.flesh_by_region[i];
        const Tissues& tissues = body.shares[i].tissues;
        ASSERT_EQ(region.region.name, body.shares[i].region.name);
        const bool light = region.region.name == "breast" || region.region.name.ends_with("wing");
        const double lean = composition_density(raw_food(light ? "05219" : "05167").composition, 4);
        EXPECT_NEAR(
            tissues.lean_kg / lean + tissues.skin_and_fat_kg / skin + tissues.gristle_kg / gristle_density,
            region.volume.amount, 1e-9 * region.volume.amount)
            << region.region.name;
        EXPECT_NEAR(region.density_kg_m3 * region.volume.amount, tissues.flesh_kg(), 1e-9)
            << region.region.name;
        kg += tissues.flesh_kg();
        volume -= region.volume.amount;
    }
    EXPECT_NEAR(volume, 0, 1e-12);
    double net = 0;
    for (const RegionFlesh& region : body.flesh_by_region) net += region.volume.amount;
    EXPECT_NEAR(body.parts[0].density_kg_m3, kg / net, 1e-6);
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

// Over all, trussed: from memory of such birds. No table of lengths and breadths against weight was found.
TEST(Bird, SizesOfBirds) {
    struct Measured {
        const char* species;
        double kg;
        Vec3 size;
    };
    for (const auto& [species, kg, size] :
         {Measured{"turkey", 5.9, {0.38, 0.24, 0.18}}, Measured{"chicken", 1.9, {0.25, 0.16, 0.12}},
          Measured{"duck", 2.3, {0.30, 0.17, 0.12}}, Measured{"goose", 4.6, {0.39, 0.21, 0.16}},
          Measured{"guinea fowl", 1.3, {0.23, 0.14, 0.11}}, Measured{"quail", 0.2, {0.12, 0.075, 0.055}}}) {
        const Vec3 made = bounds(make_bird({.species = species, .mass_kg = kg}).parts[0].mesh).sizes();
        for (int k = 0; k < 3; ++k) EXPECT_NEAR(made[k], size[k], 0.1 * size[k]) << species << ' ' << k;
    }
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
    const std::vector<Region>& table = prepared->body.region_table;
    const auto wall = std::find_if(table.begin(), table.end(), [](const Region& region) {
        return region.kind == RegionKind::cavity_wall;
    });
    ASSERT_NE(wall, table.end());
    const auto wall_index = static_cast<std::uint8_t>(wall - table.begin());
    EXPECT_GT(std::count(prepared->body.parts[0].regions.begin(), prepared->body.parts[0].regions.end(),
                         wall_index),
              1000);
}

class BirdOfEachSpecies : public testing::TestWithParam<std::pair<const char*, double>> {};

TEST_P(BirdOfEachSpecies, BonesLieInTheFleshAndApart) {
    const auto prepared = prepare(make_bird({.species = GetParam().first, .mass_kg = GetParam().second}));
    const auto& parts = prepared->body.parts;
    int bones = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (parts[i].kind != PartKind::bone) continue;
        ++bones;
        EXPECT_EQ(parts[i].parent, 0);
        const double scale = std::cbrt(GetParam().second / 5.9);
        for (const Vec3& v : parts[i].mesh.vertices) {
            ASSERT_TRUE(prepared->queries[0].contains(v)) << parts[i].name;
            ASSERT_GT(prepared->queries[0].closest(v).distance, 1e-3 * scale) << parts[i].name;
            for (std::size_t j = 1; j < parts.size(); ++j) {
                ASSERT_TRUE(j == i || !prepared->queries[j].contains(v))
                    << parts[i].name << " in " << parts[j].name;
            }
        }
    }
    EXPECT_EQ(bones, 15);
}

TEST_P(BirdOfEachSpecies, CentreOfMassOnTheMidPlaneAndNearTheRod) {
    const Body body = make_bird({.species = GetParam().first, .mass_kg = GetParam().second});
    const Moments mass = mass_moments(body);
    EXPECT_NEAR(mass.amount, GetParam().second, 1e-9 * mass.amount);
    EXPECT_LT(std::abs(mass.centre.y()), 1e-9);
    EXPECT_LT(std::abs(mass.centre.z()), 0.010 * std::cbrt(mass.amount / 5.9));
    for (const Part& part : body.parts) {
        const SolidReport report = check_solid(part.mesh);
        EXPECT_TRUE(report.ok()) << part.name << ": " << report.found;
        EXPECT_EQ(report.components, 1) << part.name;
    }
}

INSTANTIATE_TEST_SUITE_P(Birds, BirdOfEachSpecies,
                         testing::Values(std::pair{"turkey", 2.6}, std::pair{"turkey", 5.9},
                                         std::pair{"turkey", 19.5}, std::pair{"chicken", 1.9},
                                         std::pair{"duck", 2.3}, std::pair{"goose", 4.6},
                                         std::pair{"guinea fowl", 1.3}, std::pair{"quail", 0.2}));

// Raw pieces with skin, USDA SR26 05091 (thigh 185–193 g), 05066 (drumstick 111–133 g), 05100 (wing 107 g),
// neck 50 g without its bone, of broilers of about 1.9 kg with neck.
TEST(Bird, PartsWeighWhatPartsOfChickensDo) {
    const Body body = make_bird({.species = "chicken", .mass_kg = 1.9});
    EXPECT_NEAR(share(body, {"left thigh"}) * 1.9, 0.189, 0.010);
    EXPECT_NEAR(share(body, {"left drumstick"}) * 1.9, 0.122, 0.011);
    EXPECT_NEAR(share(body, {"left wing"}) * 1.9, 0.107, 0.008);
    EXPECT_NEAR(share(body, {"neck"}) * 1.9, 0.050, 0.012);
}

TEST(Bird, LeftIsTheBirdsOwnLeft) {
    // On its back with the neck ahead, a bird has its left on the −y side (left = up × ahead with its own up,
    // −z).
    for (const PartShare& part : turkey(5.9).shares) {
        if (part.region.name.starts_with("left")) {
            EXPECT_LT(part.centre_m.y(), -0.03) << part.region.name;
        }
        if (part.region.name.starts_with("right")) {
            EXPECT_GT(part.centre_m.y(), 0.03) << part.region.name;
        }
    }
}

TEST(Bird, StuffingWeighsInTheCavity) {
    const Body empty = turkey(5.9);
    const Body stuffed = make_bird({.species = "turkey", .mass_kg = 5.9, .stuffing_kg = 0.6});
    EXPECT_NEAR(mass_moments(stuffed).amount, 6.5, 1e-9);
    ASSERT_EQ(empty.parts.size() + 1, stuffed.parts.size());
    const Part& stuffing = stuffed.parts.back();
    EXPECT_EQ(stuffing.kind, PartKind::stuffing);
    EXPECT_NEAR(stuffing.density_kg_m3, 750, 1e-6);
    const auto prepared = prepare(stuffed);
    for (const Vec3& v : stuffing.mesh.vertices) {
        EXPECT_TRUE(prepared->queries[static_cast<std::size_t>(stuffing.parent)].contains(v));
        EXPECT_FALSE(prepared->queries[0].contains(v));
    }
    // The flesh does not know of it.
    EXPECT_DOUBLE_EQ(stuffed.parts[0].density_kg_m3, empty.parts[0].density_kg_m3);
}

TEST(Bird, StuffingIsPressedBeforeItIsRefused) {
    const double room = 0.98 * volume_moments(turkey(5.9).parts.back().mesh).amount;
    const Body pressed = make_bird({.species = "turkey", .mass_kg = 5.9, .stuffing_kg = 900 * room});
    EXPECT_GT(pressed.parts.back().density_kg_m3, 850);
    try {
        make_bird({.species = "turkey", .mass_kg = 5.9, .stuffing_kg = 1050 * room});
        FAIL();
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints()[0].key, "stuffing");
        EXPECT_NE(error.complaints()[0].expected.find("at most"), std::string::npos);
    }
}

TEST(Bird, GibletsLieTowardTheNeckAndLeaveRoomForStuffing) {
    const Body body =
        make_bird({.species = "turkey", .mass_kg = 5.9, .stuffing_kg = 0.3, .giblets_kg = 0.25});
    EXPECT_NEAR(mass_moments(body).amount, 6.45, 1e-9);
    const Part &giblets = body.parts[body.parts.size() - 2], &stuffing = body.parts.back();
    EXPECT_EQ(giblets.name, "giblets");
    EXPECT_NEAR(giblets.density_kg_m3, 1050, 1e-6);
    EXPECT_GT(bounds(giblets.mesh).min().x(), bounds(stuffing.mesh).max().x());
    EXPECT_FALSE(body.remarks.empty());
    EXPECT_THROW(make_bird({.species = "turkey", .mass_kg = 5.9, .giblets_kg = 2}), InputError);
}

// Whole less what is left is the limb. Both are integrated over their own meshes, the share is counted on a
// lattice: they agree within the mesher's chords.
TEST(Bird, TakingALimbAwayTakesItsMoment) {
    for (const char* limb : {"left wing", "right wing", "right drumstick"}) {
        const Body whole = turkey(5.9);
        const auto part = std::find_if(whole.shares.begin(), whole.shares.end(),
                                       [&](const PartShare& s) { return s.region.name == limb; });
        ASSERT_NE(part, whole.shares.end());
        const Body rest = make_bird({.species = "turkey", .mass_kg = 5.9 - part->mass_kg, .missing = {limb}});
        // At the same scale the rest is the same flesh: its size was found from its own weight.
        const Moments all = mass_moments(whole), left = mass_moments(rest);
        const Vec3 moment = all.first() - left.first();
        // The openings have not moved, so both frames are one.
        const bool is_wing = std::string(limb).ends_with("wing");
        EXPECT_LT((moment / part->mass_kg - part->centre_m).norm(), is_wing ? 0.3e-3 : 1.2e-3) << limb;
        const Vec3 expected = (all.first() - part->mass_kg * part->centre_m) / left.amount;
        EXPECT_LT((left.centre - expected).norm(), is_wing ? 0.02e-3 : 0.08e-3) << limb;
        EXPECT_NEAR(rest.flesh_by_region[0].density_kg_m3, whole.flesh_by_region[0].density_kg_m3, 1e-3);
        EXPECT_EQ(rest.parts.size() + (is_wing ? 2 : 1), whole.parts.size());
        EXPECT_TRUE(std::none_of(rest.shares.begin(), rest.shares.end(),
                                 [&](const PartShare& s) { return s.region.name == limb; }));
        // What stays is where it was.
        for (const PartShare& stays : rest.shares) {
            const auto same = std::find_if(whole.shares.begin(), whole.shares.end(), [&](const PartShare& s) {
                return s.region.name == stays.region.name;
            });
            EXPECT_NEAR(stays.mass_kg, same->mass_kg, 0.01 * same->mass_kg + 0.002)
                << limb << ' ' << stays.region.name;
        }
    }
}

TEST(Bird, ALegTakesItsDrumstickAlong) {
    const auto without = [](std::vector<std::string> missing) {
        return make_bird({.species = "turkey", .mass_kg = 5, .missing = std::move(missing)});
    };
    EXPECT_EQ(matter_volume(without({"left leg", "left drumstick"})), matter_volume(without({"left leg"})));
}

TEST(Bird, RefusesToTakeAwayWhatIsNotThere) {
    try {
        make_bird({.species = "turkey", .mass_kg = 5.9, .missing = {"left flipper"}});
        FAIL();
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints()[0].key, "missing");
        EXPECT_NE(error.complaints()[0].expected.find("left wing"), std::string::npos);
    }
}

// Greatest distance from the line through the openings, the rod's for a start.
double swept_radius(const TriangleMesh& mesh) {
    double r = 0;
    for (const Vec3& v : mesh.vertices) r = std::max(r, std::hypot(v.y(), v.z()));
    return r;
}

TEST(Bird, FreeLimbsSweepMoreButWeighTheSame) {
    const Body tight = turkey(5.9);
    const Body wings = make_bird({.species = "turkey", .mass_kg = 5.9, .trussing = Trussing::legs_tied});
    const Body loose = make_bird({.species = "turkey", .mass_kg = 5.9, .trussing = Trussing::loose});
    EXPECT_TRUE(tight.swung.empty());
    ASSERT_EQ(wings.swung.size(), 2U);
    ASSERT_EQ(loose.swung.size(), 4U);
    EXPECT_EQ(mass_moments(loose).centre, mass_moments(tight).centre);
    for (const SwungLimb& limb : loose.swung) {
        const SolidReport report = check_solid(limb.mesh);
        EXPECT_TRUE(report.ok()) << limb.name << ": " << report.found;
        EXPECT_GT(swept_radius(limb.mesh), swept_radius(tight.parts[0].mesh) + 0.03) << limb.name;
        EXPECT_EQ(limb.name.starts_with("left"), volume_moments(limb.mesh).centre.y() < 0) << limb.name;
    }
    EXPECT_EQ(
        make_bird({.species = "turkey", .mass_kg = 5.9, .trussing = Trussing::loose, .missing = {"left leg"}})
            .swung.size(),
        3U);
}

// A tie holds what would swing without it, and swings it all the same when it comes undone.
TEST(Bird, TiedLimbsSwingAsFreeOnesOnceTheirTieIsUndone) {
    const auto bird = [](Trussing trussing, std::vector<std::string> missing) {
        return make_bird(
            {.species = "turkey", .mass_kg = 5.9, .trussing = trussing, .missing = std::move(missing)});
    };
    const auto same = [](const SwungLimb& a, const SwungLimb& b) {
        return a.name == b.name && a.mesh.vertices == b.mesh.vertices &&
               std::equal(a.mesh.triangles.begin(), a.mesh.triangles.end(), b.mesh.triangles.begin(),
                          b.mesh.triangles.end());
    };
    for (const std::vector<std::string>& missing :
         {std::vector<std::string>{}, {"left drumstick"}, {"right leg", "left wing"}, {"right drumstick"}}) {
        SCOPED_TRACE(missing.empty() ? "whole" : missing.front());
        const Body tight = bird(Trussing::tight, missing), loose = bird(Trussing::loose, missing);
        const Body legs_tied = bird(Trussing::legs_tied, missing);
        EXPECT_TRUE(loose.if_undone.empty()) << "nothing ties it";
        EXPECT_TRUE(tight.swung.empty());
        ASSERT_EQ(tight.if_undone.size(), loose.swung.size());
        for (std::size_t i = 0; i < loose.swung.size(); ++i) {
            EXPECT_TRUE(same(tight.if_undone[i], loose.swung[i])) << loose.swung[i].name;
            // Of one with its legs tied each limb is in one list or in the other.
            const bool leg = loose.swung[i].name.ends_with("leg");
            const std::vector<SwungLimb>& there = leg ? legs_tied.if_undone : legs_tied.swung;
            EXPECT_TRUE(std::any_of(there.begin(), there.end(), [&](const SwungLimb& limb) {
                return same(limb, loose.swung[i]);
            })) << loose.swung[i].name;
        }
        EXPECT_EQ(legs_tied.if_undone.size() + legs_tied.swung.size(), loose.swung.size());
    }
    EXPECT_EQ(bird(Trussing::tight, {}).if_undone.size(), 4U);
    // What is left of a leg swings, and no more than that.
    const std::vector<SwungLimb> uneven = bird(Trussing::tight, {"left drumstick"}).if_undone;
    ASSERT_EQ(uneven.size(), 4U);
    EXPECT_EQ(uneven[0].name, "right leg");
    EXPECT_EQ(uneven[2].name, "left leg");
    EXPECT_LT(volume_moments(uneven[2].mesh).amount, 0.8 * volume_moments(uneven[0].mesh).amount);
    EXPECT_EQ(bird(Trussing::legs_tied, {}).if_undone.size(), 2U);
    EXPECT_EQ(bird(Trussing::tight, {"right leg", "left wing"}).if_undone.size(), 2U);
}

TEST(Bird, MeasuresWhatTheTapeDoes) {
    const Body body = make_bird(
        {.species = "turkey", .mass_kg = 5.9, .tape = {.length = 0.385, .width = 0.215, .depth = 0.175}});
    const Vec3 size = bounds(body.parts[0].mesh).sizes();
    EXPECT_NEAR(size.x(), 0.385, 2.5e-3);
    EXPECT_NEAR(size.y(), 0.215, 2.5e-3);
    EXPECT_NEAR(size.z(), 0.175, 2.5e-3);
    EXPECT_NEAR(mass_moments(body).amount, 5.9, 1e-8);
}

// A tape that says what the bird measures anyhow changes next to nothing.
TEST(Bird, TapeThatAgreesChangesNothing) {
    const Body plain = turkey(5.9);
    const Vec3 size = bounds(plain.parts[0].mesh).sizes();
    const Body taped = make_bird({.species = "turkey",
                                  .mass_kg = 5.9,
                                  .tape = {.length = size.x(), .width = size.y(), .depth = size.z()}});
    EXPECT_LT((mass_moments(taped).centre - mass_moments(plain).centre).norm(), 1.5e-3);
    EXPECT_NEAR(taped.parts[0].density_kg_m3, plain.parts[0].density_kg_m3, 12);
}

// A taut tape round the finished mesh: over all stations the greatest perimeter of the slice's hull, which is
// the integral of its support function over all directions.
double girth(const TriangleMesh& mesh) {
    double most = 0;
    for (double x = -0.08; x <= 0.08; x += 0.004) {
        std::vector<Vec2> slice;
        for (const Triangle& t : mesh.triangles) {
            for (int k = 0; k < 3; ++k) {
                const Vec3 &a = mesh.corner(t, k), &b = mesh.corner(t, (k + 1) % 3);
                if ((a.x() < x) == (b.x() < x)) continue;
                const Vec3 p = a + (x - a.x()) / (b.x() - a.x()) * (b - a);
                slice.emplace_back(p.y(), p.z());
            }
        }
        double perimeter = 0;
        constexpr int direction_count = 180;
        for (int i = 0; i < direction_count; ++i) {
            const double angle = 2 * std::numbers::pi * i / direction_count;
            const Vec2 outward(std::cos(angle), std::sin(angle));
            double support = -1;
            for (const Vec2& p : slice) support = std::max(support, p.dot(outward));
            perimeter += support * 2 * std::numbers::pi / direction_count;
        }
        most = std::max(most, perimeter);
    }
    return most;
}

TEST(Bird, GirthAndSplayAreFitted) {
    const Body plain = turkey(5.9);
    const double slim = 0.97 * girth(plain.parts[0].mesh);
    const Body body =
        make_bird({.species = "turkey", .mass_kg = 5.9, .tape = {.girth = slim, .leg_splay = 0.10}});
    EXPECT_NEAR(girth(body.parts[0].mesh), slim, 4e-3);
    const auto hock_spread = [](const Body& b) {
        // The middle of what lies within 1 cm of the body's least x on the right.
        const double least = bounds(b.parts[0].mesh).min().x();
        Box3 end;
        for (const Vec3& v : b.parts[0].mesh.vertices) {
            if (v.y() > 0.01 && v.x() < least + 0.01) end.extend(v);
        }
        return 2 * end.center().y();
    };
    EXPECT_NEAR(hock_spread(body), 0.10, 0.006);
    EXPECT_LT(hock_spread(plain), 0.09);
}

TEST(Bird, TapeThatContradictsTheScaleIsRefused) {
    try {
        make_bird({.species = "turkey", .mass_kg = 5, .tape = {.length = 0.20}});
        FAIL() << "no bird of 5 kg is 20 cm long";
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints()[0].key, "length");
        EXPECT_NE(error.complaints()[0].found.find("200 mm"), std::string::npos);
        EXPECT_NE(error.complaints()[0].expected.find("about 3"), std::string::npos)
            << error.complaints()[0].expected;
    }
    EXPECT_THROW(
        make_bird({.species = "turkey", .mass_kg = 5, .tape = {.length = 0.6, .width = 0.4, .depth = 0.4}}),
        InputError);
    EXPECT_THROW(make_bird({.species = "turkey", .mass_kg = 5, .tape = {.girth = -0.2}}), InputError);
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

// J. Agric. Sci. 93:1 (1979), 44 turkeys: against the keel's length the depth of the keel grows slower, that
// of the meat over the sternum faster, and the bones of the leg slower: bigger turkeys are relatively deeper
// fleshed. Large toms (15 to 23 kg): the breast's share rises with size (Poultry Science research note).
TEST(Bird, BiggerTurkeysAreDeeperFleshed) {
    double last_depth = 0, last_leg = 1e9, last_share = 0;
    for (const double kg : {2.6, 4.0, 6.5, 10.0, 15.0, 19.5}) {
        const Body body = turkey(kg);
        const auto box_of = [&](const char* name) {
            return bounds(std::find_if(body.parts.begin(), body.parts.end(), [&](const Part& p) {
                              return p.name == name;
                          })->mesh);
        };
        const double keel_length = box_of("keel").sizes().x();
        const double depth = bounds(body.parts[0].mesh).max().z() - box_of("sternum").max().z();
        const double leg = box_of("left tibia").sizes().x();
        EXPECT_GT(depth / keel_length, last_depth) << kg;
        EXPECT_LT(leg / keel_length, last_leg) << kg;
        EXPECT_GT(share(body, {"breast"}), last_share) << kg;
        last_depth = depth / keel_length;
        last_leg = leg / keel_length;
        last_share = share(body, {"breast"});
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
}  // namespace evenspit::body
