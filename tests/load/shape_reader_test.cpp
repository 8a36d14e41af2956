// SPDX-License-Identifier: MIT
#include "load/shape_reader.h"

#include <cmath>
#include <ostream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "body/measures.h"
#include "load/load_fixture.h"

namespace evenspit {
namespace {

using test::line_of;
using test::small_load;
using test::with;
using testing::Contains;
using testing::Each;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

// The small load with a parametric body in the place of the scan.
std::string parametric(const std::string& keys) {
    return with(small_load, "scan = \"box.off\"\nscan_unit = \"mm\"\nmass = \"3.6 kg\"", keys);
}

class ShapeReader : public test::LoadTest {
  protected:
    [[nodiscard]] Item item(const std::string& keys) const { return read(parametric(keys)).items[0]; }
};

TEST_F(ShapeReader, MakesABird) {
    const Item turkey = item("shape = \"turkey\"\nmass = \"13 lb\"\ncavity = \"empty\"");
    EXPECT_TRUE(turkey.bird);
    EXPECT_TRUE(turkey.trussed);
    EXPECT_EQ(turkey.body->body.name, "roast");
    EXPECT_NEAR(turkey.body->mass.amount, 13 * 0.45359237, 1e-9);
    EXPECT_THAT(turkey.body->body.swung, IsEmpty());
    EXPECT_TRUE(turkey.pose.isApprox(
        seat_pose(turkey.seat, turkey.body->bounds.min().x(), turkey.body->bounds.max().x()), 1e-12));
}

TEST_F(ShapeReader, MakesEveryShapeThatIsThere) {
    for (const std::string& name : body::shape_names()) {
        SCOPED_TRACE(name);
        const std::string mass = name == "quail"                              ? "200 g"
                                 : name == "suckling pig"                     ? "7 kg"
                                 : name == "chicken" || name == "guinea fowl" ? "1.5 kg"
                                                                              : "3 kg";
        const Item made = item("shape = \"" + name + "\"\nmass = \"" + mass + "\"");
        EXPECT_EQ(made.bird, body::is_bird(name));
        EXPECT_TRUE(made.trussed);
        EXPECT_GT(made.body->mass.amount, 0.19);
    }
}

TEST_F(ShapeReader, TakesNamesAsPeopleWriteThem) {
    EXPECT_EQ(read(with(parametric("shape = \"Leg-of-Lamb\"\nmass = \"2.5 kg\""), "name = \"roast\"\n", ""))
                  .items[0]
                  .name,
              "leg of lamb");
}

TEST_F(ShapeReader, TiesAPigsLegsAsItIsTold) {
    const auto pig = [&](const std::string& keys) {
        return item("shape = \"suckling pig\"\nmass = \"7 kg\"\n" + keys);
    };
    using enum body::Trussing;
    for (const auto& [keys, way] : {std::pair{"", folded},
                                    {"trussed = true", folded},
                                    {"trussing = \"folded\"", folded},
                                    {"trussing = \"stretched\"", stretched},
                                    {"trussing = \"stretched\"\ntrussed = true", stretched}}) {
        const Item made = pig(keys);
        EXPECT_TRUE(made.trussed) << keys;
        EXPECT_EQ(made.body->body.trussing, way) << keys;
        EXPECT_EQ(made.body->body.if_undone.size(), 4U) << keys;
    }
    for (const char* keys :
         {"trussed = false", "trussing = \"loose\"", "trussing = \"loose\"\ntrussed = false"}) {
        const Item made = pig(keys);
        EXPECT_FALSE(made.trussed) << keys;
        EXPECT_EQ(made.body->body.swung.size(), 4U) << keys;
    }
}

TEST_F(ShapeReader, FreesLimbsAsTheyAreTied) {
    const auto free = [&](const std::string& key) {
        return item("shape = \"chicken\"\nmass = \"1.9 kg\"\n" + key);
    };
    for (const char* tight :
         {"", "trussed = true", "trussing = \"tight\"", "trussing = \"tight\"\ntrussed = true"}) {
        EXPECT_TRUE(free(tight).trussed);
        EXPECT_THAT(free(tight).body->body.swung, IsEmpty());
    }
    for (const char* loose :
         {"trussed = false", "trussing = \"loose\"", "trussing = \"loose\"\ntrussed = false"}) {
        EXPECT_FALSE(free(loose).trussed);
        EXPECT_EQ(free(loose).body->body.swung.size(), 4U);
    }
    for (const char* wings : {"trussing = \"legs tied\"", "trussing = \"legs tied\"\ntrussed = false"}) {
        EXPECT_FALSE(free(wings).trussed);
        EXPECT_EQ(free(wings).body->body.swung.size(), 2U);
        EXPECT_THAT(free(wings).body->body.swung, Each(Field(&body::SwungLimb::name, HasSubstr("wing"))));
    }
}

TEST_F(ShapeReader, TakesLimbsAway) {
    const Item whole = item("shape = \"turkey\"\nmass = \"6 kg\"");
    const Item lopsided = item("shape = \"turkey\"\nmass = \"6 kg\"\nmissing = [\"left wing\"]");
    EXPECT_NEAR(whole.body->mass.centre.y(), 0, 1e-9);
    // The bird's left is −y, so what is left weighs more on the other side.
    EXPECT_GT(lopsided.body->mass.centre.y(), 1e-3);
    EXPECT_NEAR(lopsided.body->mass.amount, 6, 1e-9);
    // With no wing there is none to swing.
    const Item wingless = item(
        "shape = \"turkey\"\nmass = \"6 kg\"\nmissing = [\"left wing\", \"right wing\"]\ntrussing = \"legs "
        "tied\"");
    EXPECT_TRUE(wingless.trussed);
}

TEST_F(ShapeReader, FillsTheCavity) {
    const auto part = [](const Item& item, const std::string& name) -> const body::Part& {
        for (const body::Part& p : item.body->body.parts) {
            if (p.name == name) return p;
        }
        throw std::runtime_error("no " + name);
    };
    const Item full = item(
        "shape = \"turkey\"\nmass = \"6 kg\"\nstuffing = \"400 g\"\nstuffing_density = \"600 "
        "kg/m3\"\ngiblets = \"200 g\"");
    EXPECT_NEAR(full.body->mass.amount, 6.6, 1e-9);
    EXPECT_NEAR(part(full, "stuffing").density_kg_m3, 600, 1e-6);
    const body::Part& giblets = part(full, "giblets");
    EXPECT_NEAR(giblets.density_kg_m3 * volume_moments(giblets.mesh).amount, 0.2, 1e-9);
}

TEST_F(ShapeReader, FitsABirdToATape) {
    const Item turkey = item(
        "shape = \"turkey\"\nmass = \"6 kg\"\n"
        "tape = { length = \"40 cm\", width = \"235 mm\", depth = \"19 cm\" }");
    const Vec3 size = turkey.body->bounds.sizes();
    // As close as the fit promises.
    EXPECT_NEAR(size.x(), 0.40, 0.04 * 0.40);
    EXPECT_NEAR(size.y(), 0.235, 0.04 * 0.235);
    EXPECT_NEAR(size.z(), 0.19, 0.04 * 0.19);
    EXPECT_NEAR(turkey.body->mass.amount, 6, 1e-9);
    const Item girded =
        item("shape = \"turkey\"\nmass = \"6 kg\"\ntape = { girth = \"67 cm\", breast_width = \"15 cm\" }");
    EXPECT_NEAR(body::measure_body(girded.body->body).girth_m, 0.67, 0.02 * 0.67);
    const auto drumsticks_apart = [](const Item& bird) {
        double apart = 0;
        for (const body::PartShare& share : bird.body->body.shares) {
            if (share.region.name == "right drumstick") apart += share.centre_m.y();
            if (share.region.name == "left drumstick") apart -= share.centre_m.y();
        }
        return apart;
    };
    const Item splayed = item("shape = \"turkey\"\nmass = \"6 kg\"\ntape = { leg_splay = \"12 cm\" }");
    const Item natural = item("shape = \"turkey\"\nmass = \"6 kg\"");
    EXPECT_GT(drumsticks_apart(splayed), drumsticks_apart(natural) + 0.01);
}

TEST_F(ShapeReader, StretchesAJointToATape) {
    const Item roll = item(
        "shape = \"boneless roll\"\nmass = \"2.5 kg\"\ntrussed = true\ncavity = \"empty\"\n"
        "tape = { length = \"32 cm\" }");
    EXPECT_FALSE(roll.bird);
    EXPECT_NEAR(roll.body->bounds.sizes().x(), 0.32, 1e-9);
}

// --- what is told ---

// Keys beside `shape` and what is said about them: one complaint, at the line of `at`.
struct Mistake {
    const char* name;
    const char* shape;
    const char* keys;
    const char* key;
    const char* found;
    const char* expected;
    const char* mend;
    const char* at;
};

void PrintTo(const Mistake& mistake, std::ostream* out) {
    *out << mistake.name;
}

class ShapeMistakes : public test::LoadTest, public testing::WithParamInterface<Mistake> {};

TEST_P(ShapeMistakes, AreToldWithHowToMendThem) {
    const Mistake& mistake = GetParam();
    const std::string text =
        parametric("shape = \"" + std::string(mistake.shape) + "\"\n" + mistake.keys + "\n");
    const std::vector<Complaint> told = complaints(text);
    ASSERT_EQ(told.size(), 1U) << (told.empty() ? "" : InputError(told).what());
    EXPECT_EQ(told[0].spot.file, (folder_ / "load.toml").string());
    EXPECT_EQ(told[0].spot.line, line_of(text, mistake.at));
    EXPECT_GT(told[0].spot.column, 0);
    EXPECT_EQ(told[0].key, "item[1]." + std::string(mistake.key));
    EXPECT_THAT(told[0].found, HasSubstr(mistake.found));
    EXPECT_THAT(told[0].expected, HasSubstr(mistake.expected));
    EXPECT_THAT(told[0].mend, HasSubstr(mistake.mend));
}

std::string name_of(const testing::TestParamInfo<Mistake>& info) {
    return info.param.name;
}

constexpr const char* six_kg = "mass = \"6 kg\"";

INSTANTIATE_TEST_SUITE_P(
    Names, ShapeMistakes,
    testing::Values(Mistake{"slip", "turky", six_kg, "shape", "'turky'", "one of: turkey, chicken, duck",
                            R"(did you mean "turkey"?)", "shape = \"turky\""},
                    Mistake{"slip_of_a_joint", "leg-of-lam", six_kg, "shape", "'leg-of-lam'", "leg of lamb",
                            R"(did you mean "leg of lamb"?)", "shape = \"leg"},
                    Mistake{"unknown", "crocodile", six_kg, "shape", "'crocodile'", "suckling pig",
                            "give a scan", "shape = \"croc"},
                    Mistake{"no_mass", "turkey", "", "mass", "nothing", "a mass above zero", "add mass",
                            "[[item]]"},
                    Mistake{"too_heavy", "turkey", "mass = \"900 kg\"", "mass", "900 kg",
                            "a turkey of 2.5 kg to 20 kg", "give a scan", "mass = \"900"},
                    Mistake{"too_light_a_joint", "rib roast", "mass = \"300 g\"", "mass", "300 g",
                            "a rib roast of", "give a scan", "mass = \"300"}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Limbs, ShapeMistakes,
    testing::Values(
        Mistake{"unknown_trussing", "turkey", "mass = \"6 kg\"\ntrussing = \"tigt\"", "trussing", "'tigt'",
                R"("tight", "legs tied" or "loose")", R"(did you mean "tight"?)", "trussing ="},
        Mistake{"tight_but_not_trussed", "turkey", "mass = \"6 kg\"\ntrussed = false\ntrussing = \"tight\"",
                "trussing", "trussing = 'tight' beside trussed = false", "agrees", "one of the two",
                "trussing ="},
        Mistake{"loose_but_trussed", "turkey", "mass = \"6 kg\"\ntrussing = \"legs tied\"\ntrussed = true",
                "trussing", "trussing = 'legs tied' beside trussed = true", "agrees", "one of the two",
                "trussing ="},
        Mistake{"a_bird_folded", "turkey", "mass = \"6 kg\"\ntrussing = \"folded\"", "trussing", "'folded'",
                R"("tight", "legs tied" or "loose")", "", "trussing ="},
        Mistake{"a_pig_tight", "suckling pig", "mass = \"7 kg\"\ntrussing = \"tight\"", "trussing", "'tight'",
                R"("folded", "stretched" or "loose")", "", "trussing ="},
        Mistake{"a_slip_of_a_pig", "suckling pig", "mass = \"7 kg\"\ntrussing = \"streched\"", "trussing",
                "'streched'", R"("folded", "stretched" or "loose")", R"(did you mean "stretched"?)",
                "trussing ="},
        Mistake{"stretched_but_not_trussed", "suckling pig",
                "mass = \"7 kg\"\ntrussed = false\ntrussing = \"stretched\"", "trussing",
                "trussing = 'stretched' beside trussed = false", "agrees", "one of the two", "trussing ="},
        Mistake{"unknown_limb", "turkey", "mass = \"6 kg\"\nmissing = [\"right leg\",\n\"left wnig\"]",
                "missing[2]", "'left wnig'", R"("left wing", "left leg")", R"(did you mean "left wing"?)",
                "\"left wnig\""},
        Mistake{"no_limb_at_all", "turkey", "mass = \"6 kg\"\nmissing = [3]", "missing[1]", "3",
                R"("left wing")", "", "missing ="},
        Mistake{"limb_twice", "turkey", "mass = \"6 kg\"\nmissing = [\"left leg\", \"left leg\"]",
                "missing[2]", "'left leg' once more", "each once", "take it out", "missing ="},
        Mistake{"limb_without_a_list", "turkey", "mass = \"6 kg\"\nmissing = \"left leg\"", "missing",
                "'left leg'", "a list of", R"(write missing = ["left wing"])", "missing ="}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Contents, ShapeMistakes,
    testing::Values(Mistake{"stuffing_in_an_empty_cavity", "turkey",
                            "mass = \"6 kg\"\ncavity = \"empty\"\nstuffing = \"700 g\"", "stuffing",
                            "stuffing beside cavity = 'empty'", "one of the two", "not empty", "stuffing ="},
                    Mistake{"giblets_in_an_empty_cavity", "turkey",
                            "mass = \"6 kg\"\ncavity = \"empty\"\ngiblets = \"200 g\"", "giblets",
                            "giblets beside cavity = 'empty'", "one of the two", "not empty", "giblets ="},
                    Mistake{"density_alone", "turkey", "mass = \"6 kg\"\nstuffing_density = \"700 kg/m3\"",
                            "stuffing_density", "stuffing_density without stuffing", "both, or none",
                            "how much", "stuffing_density ="},
                    Mistake{"density_of_lead", "turkey",
                            "mass = \"6 kg\"\nstuffing = \"500 g\"\nstuffing_density = \"11 g/cm3\"",
                            "stuffing_density", "11000 kg/m³", "stuffing of 200 kg/m³ to", "240 ml",
                            "stuffing_density ="},
                    Mistake{"more_than_fits", "turkey", "mass = \"6 kg\"\nstuffing = \"5 kg\"", "stuffing",
                            "5 kg", "at most", "what does not fit", "stuffing ="},
                    Mistake{"giblets_that_do_not_fit", "chicken", "mass = \"1.5 kg\"\ngiblets = \"1 kg\"",
                            "giblets", "1 kg", "at most", "what does not fit", "giblets ="},
                    Mistake{"stuffing_of_a_roll", "boneless roll", "mass = \"2 kg\"\nstuffing = \"100 g\"",
                            "stuffing", "100 g", "no cavity", "leave it out", "stuffing ="},
                    Mistake{"unknown_cavity", "turkey", "mass = \"6 kg\"\ncavity = \"full\"", "cavity",
                            "'full'", R"("empty")", "", "cavity ="}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Tapes, ShapeMistakes,
    testing::Values(Mistake{"short_bird", "turkey", "mass = \"5 kg\"\ntape.length = \"20 cm\"", "tape.length",
                            "200 mm", "about", "check the tape and the scale", "tape.length ="},
                    Mistake{"bare_number", "turkey", "mass = \"5 kg\"\ntape = { girth = 70 }", "tape.girth",
                            "'70', a number without a unit", "a length above zero", "70 mm", "tape ="},
                    Mistake{"unknown_measure", "turkey", "mass = \"5 kg\"\ntape = { lenght = \"40 cm\" }",
                            "tape.lenght", "an unknown key", "'length'", "did you mean 'length'?", "tape ="},
                    Mistake{"no_table", "turkey", "mass = \"5 kg\"\ntape = \"40 cm\"", "tape", "'40 cm'",
                            "one table", "", "tape ="},
                    Mistake{"long_joint", "rib roast", "mass = \"4 kg\"\ntape = { length = \"90 cm\" }",
                            "tape.length", "900 mm", "about", "check the tape and the scale", "tape ="}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Joints, ShapeMistakes,
    testing::Values(
        Mistake{"untied", "leg of lamb", "mass = \"2 kg\"\ntrussed = false", "trussed",
                "trussed = false of a leg of lamb", "a tied one", "take it out", "trussed ="},
        Mistake{"trussing", "boneless roll", "mass = \"2 kg\"\ntrussing = \"loose\"", "trussing",
                "trussing of a boneless roll", "nothing: it has no limbs", "take it out", "trussing ="},
        Mistake{"missing", "suckling pig", "mass = \"7 kg\"\nmissing = [\"left leg\"]", "missing",
                "missing of a suckling pig", "only a bird has limbs", "take it out", "missing ="},
        Mistake{"giblets", "leg of lamb", "mass = \"2 kg\"\ngiblets = \"100 g\"", "giblets",
                "giblets of a leg of lamb", "only a bird has giblets", "take it out", "giblets ="},
        Mistake{"girth", "pork shoulder", "mass = \"4 kg\"\ntape = { girth = \"40 cm\" }", "tape.girth",
                "girth of a pork shoulder", "a joint has length, width and depth", "take it out", "tape ="}),
    name_of);

TEST_F(ShapeReader, TellsAllThatIsWrongAtOnce) {
    const std::vector<Complaint> told = complaints(parametric(
        "shape = \"leg of lamb\"\nmass = \"2 kg\"\ntrussing = \"loose\"\nmissing = [\"left leg\"]\ngiblets = "
        "\"1 kg\"\ntape = { girth = \"40 cm\", leg_splay = \"8 cm\" }"));
    ASSERT_EQ(told.size(), 5U) << InputError(told).what();
    EXPECT_EQ(told[0].key, "item[1].trussing");
    EXPECT_EQ(told[4].key, "item[1].tape.leg_splay");
}

TEST_F(ShapeReader, KeysOfAShapeAreRefusedBesideAScan) {
    for (const std::string_view key : keys_only_with(key_table("item"), "shape")) {
        const std::string text =
            with(small_load, "mass = \"3.6 kg\"", "mass = \"3.6 kg\"\n" + std::string(key) + " = true");
        const std::vector<Complaint> told = complaints(text);
        ASSERT_EQ(told.size(), 1U) << key;
        EXPECT_EQ(told[0].key, "item[1]." + std::string(key));
        EXPECT_THAT(told[0].expected, HasSubstr("only beside a shape"));
    }
}

}  // namespace
}  // namespace evenspit
