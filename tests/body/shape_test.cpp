// SPDX-License-Identifier: MIT
#include "body/shape.h"

#include <algorithm>
#include <optional>

#include <gtest/gtest.h>

#include "body/joint.h"
#include "units/error.h"

namespace evenspit::body {
namespace {

ShapeOptions shape(const std::string& name, double mass_kg) {
    ShapeOptions options;
    options.species = name;
    options.mass_kg = mass_kg;
    return options;
}

std::string refused_key(const ShapeOptions& options) {
    try {
        make_shape(options);
    } catch (const InputError& error) {
        return error.complaints()[0].key;
    }
    return "none";
}

TEST(Shape, NamesAreAllOfThem) {
    const std::vector<std::string> names = shape_names();
    EXPECT_EQ(names.size(), bird_species().size() + joint_kinds().size());
    for (const char* name : {"turkey", "goose", "leg of lamb", "suckling pig"}) {
        EXPECT_NE(std::find(names.begin(), names.end(), name), names.end()) << name;
    }
    EXPECT_TRUE(is_bird("duck"));
    EXPECT_FALSE(is_bird("rib roast"));
}

TEST(Shape, MakesBirdsAndJoints) {
    EXPECT_EQ(mass_moments(make_shape(shape("duck", 2.3))).centre,
              mass_moments(make_bird(shape("duck", 2.3))).centre);
    ShapeOptions roast = shape("rib roast", 4);
    roast.tape.length = 0.18;
    const Body body = make_shape(roast);
    EXPECT_NEAR(bounds(body.parts[0].mesh).sizes().x(), 0.18, 1e-12);
    EXPECT_NEAR(mass_moments(body).amount, 4, 1e-9);
}

// A slip of the tape, like 3.7 m for 37 cm: told by its key, with what would be likely, and before any fit is
// tried.
TEST(Shape, RefusesMeasuresThatNoSuchBodyHas) {
    struct Measure {
        const char* key;
        std::optional<double> BirdTape::*member;
    };
    const std::vector<Measure> measures{
        {"length", &BirdTape::length}, {"width", &BirdTape::width},
        {"depth", &BirdTape::depth},   {"breast_width", &BirdTape::breast_width},
        {"girth", &BirdTape::girth},   {"leg_splay", &BirdTape::leg_splay}};
    const auto expect_refused = [](ShapeOptions options, const Measure& measure, double m) {
        options.tape.*measure.member = m;
        try {
            make_shape(options);
            ADD_FAILURE() << options.species << ' ' << measure.key << ' ' << m;
        } catch (const InputError& error) {
            const Complaint& complaint = error.complaints()[0];
            EXPECT_EQ(complaint.key, measure.key);
            EXPECT_NE(complaint.expected.find("about "), std::string::npos);
            EXPECT_NE(complaint.expected.find(" to "), std::string::npos);
            EXPECT_NE(complaint.expected.find(" for a " + options.species), std::string::npos);
            EXPECT_FALSE(complaint.mend.empty());
        }
    };
    std::size_t next = 0;
    for (const ShapeKind& kind : shape_kinds()) {
        // One measure of each kind at its least and its greatest weight, another one each time.
        const std::size_t known = is_bird(kind.name) ? measures.size() : 3;
        expect_refused(shape(kind.name, kind.least_kg), measures[next++ % known], 3.7);
        expect_refused(shape(kind.name, kind.greatest_kg), measures[next++ % known], 0.001);
    }
    for (const Measure& measure : measures) expect_refused(shape("turkey", 5), measure, 1000);
    // The others are no excuse.
    ShapeOptions all = shape("turkey", 5);
    all.tape.width = 0.22;
    all.tape.depth = 0.18;
    expect_refused(all, measures[0], 2);
}

TEST(Shape, StuffingDensityReachesBirdsAndPigs) {
    for (const auto& [name, kg] : {std::pair{"turkey", 5.9}, std::pair{"suckling pig", 7.0}}) {
        ShapeOptions options = shape(name, kg);
        options.stuffing_kg = 0.3;
        options.stuffing_density_kg_m3 = 520;
        EXPECT_NEAR(make_shape(options).parts.back().density_kg_m3, 520, 1e-6) << name;
        options.stuffing_density_kg_m3 = 2000;
        EXPECT_EQ(refused_key(options), "stuffing_density") << name;
    }
}

TEST(Shape, RefusesWhatOnlyABirdHas) {
    EXPECT_EQ(refused_key(shape("brisket", 2)), "shape");
    ShapeOptions options = shape("leg of lamb", 2.5);
    EXPECT_EQ(refused_key(options), "none");
    options.missing = {"left wing"};
    EXPECT_EQ(refused_key(options), "missing");
    options = shape("leg of lamb", 2.5);
    options.giblets_kg = 0.1;
    EXPECT_EQ(refused_key(options), "giblets");
    options = shape("leg of lamb", 2.5);
    options.tape.girth = 0.4;
    EXPECT_EQ(refused_key(options), "girth");
    options = shape("leg of lamb", 2.5);
    options.tape.breast_width = 0.2;
    EXPECT_EQ(refused_key(options), "breast_width");
    options = shape("leg of lamb", 2.5);
    options.tape.leg_splay = 0.2;
    EXPECT_EQ(refused_key(options), "leg_splay");
}

TEST(Shape, EveryKindCanBeMadeFromItsLeastToItsGreatestWeight) {
    const std::vector<ShapeKind> kinds = shape_kinds();
    ASSERT_EQ(kinds.size(), shape_names().size());
    for (const ShapeKind& kind : kinds) {
        EXPECT_FALSE(kind.about.empty());
        for (const double mass_kg : {kind.least_kg, kind.greatest_kg}) {
            EXPECT_NEAR(mass_moments(make_shape(shape(kind.name, mass_kg))).amount, mass_kg, 1e-9)
                << kind.name;
        }
        EXPECT_THROW(make_shape(shape(kind.name, 1.001 * kind.greatest_kg)), InputError) << kind.name;
        EXPECT_THROW(make_shape(shape(kind.name, 0.999 * kind.least_kg)), InputError) << kind.name;
    }
}

}  // namespace
}  // namespace evenspit::body
