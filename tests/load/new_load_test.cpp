// SPDX-License-Identifier: MIT
#include "load/new_load.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <set>
#include <stdexcept>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_file.h"
#include "load/load_keys.h"
#include "load/new_load_answer.h"

namespace evenspit {
namespace {

using testing::HasSubstr;
using testing::Not;

const std::filesystem::path models = EVENSPIT_SOURCE_DIR "/models";

const NewLoadQuestion& question(std::string_view id) {
    for (const NewLoadQuestion& known : new_load_questions()) {
        if (known.id == id) return known;
    }
    throw std::logic_error("no such question");
}

std::string refusal(std::string_view id, const std::string& typed) {
    try {
        checked_answer(question(id), typed, models);
    } catch (const InputError& error) {
        EXPECT_EQ(error.complaints().front().key, id);
        return error.what();
    }
    return "taken";
}

NewLoadAnswers turkey_on_models() {
    return with_usual_answers({{"roast", "turkey"},
                               {"mass", "13 lb"},
                               {"rod", "square-8mm"},
                               {"motor", "mains-gearmotor"},
                               {"cooker", "kettle-57"}},
                              models);
}

NewLoadAnswers all_measured() {
    return with_usual_answers(
        {
            {"roast", "boneless roll"},
            {"mass", "2.4 kg"},
            {"rod", "own"},
            {"rod-section", "hexagon"},
            {"rod-width", "3/8 in"},
            {"rod-length", "700 mm"},
            {"rod-supports", "20 mm, 640 mm"},
            {"rod-usable", "60 mm to 600 mm"},
            {"motor", "own"},
            {"motor-stall", "1.3 kg at 200 mm"},
            {"motor-speed", "3 rpm"},
            {"cooker", "own"},
            {"cooker-walls", "45 mm, 620 mm"},
            {"cooker-front", "210 mm"},
            {"cooker-back", "8 in"},
            {"cooker-lid", "190 mm"},
            {"coals-below", "230 mm"},
            {"coals-along", "180 mm, 480 mm"},
            {"coals-across", "260 mm"},
            {"fork", "own"},
            {"fork-tines", "3"},
            {"fork-radius", "30 mm"},
            {"fork-length", "100 mm"},
            {"fork-thickness", "5 mm"},
            {"fork-mass", "170 g"},
            {"forks", "2"},
            {"weight", "200 g"},
            {"weight-radius", "40 mm, 110 mm"},
            {"weight-diameter", "40 mm"},
            {"temperature", "325 F"},
            {"serve", "18:30"},
        },
        models);
}

TEST(NewLoadQuestions, HaveIdsOfTheirOwnAndKeysOfALoadFile) {
    std::set<std::string> ids;
    for (const NewLoadQuestion& asked : new_load_questions()) {
        EXPECT_TRUE(ids.insert(asked.id).second) << asked.id;
        EXPECT_FALSE(asked.example.empty()) << asked.id;
        if (asked.key.empty()) continue;
        std::string path = asked.key.substr(0, asked.key.rfind('.'));
        path.erase(
            std::remove_if(path.begin(), path.end(), [](char c) { return c == '[' || c == ']' || c == '1'; }),
            path.end());
        EXPECT_NE(key_table(path).find(asked.key.substr(asked.key.rfind('.') + 1)), nullptr) << asked.key;
    }
}

TEST(NewLoadQuestions, EveryExampleIsAnAnswer) {
    for (const NewLoadQuestion& asked : new_load_questions())
        EXPECT_EQ(checked_answer(asked, asked.example, models), asked.example) << asked.id;
}

// Whoever weighs in pounds reads thermometers in Fahrenheit.
TEST(NewLoad, IsWarmInTheUnitsOfItsWeight) {
    const auto warm = [](const std::string& mass) {
        NewLoadAnswers answers = turkey_on_models();
        answers.erase("temperature");
        answers["mass"] = mass;
        return with_usual_answers(answers, models);
    };
    EXPECT_EQ(warm("13 lb")["temperature"], "300 degF");
    EXPECT_EQ(warm("12 pounds 4 ounces")["temperature"], "300 degF");
    EXPECT_THAT(new_load_text(warm("13 lb"), models), HasSubstr("breast = \"162 degF\""));
    EXPECT_EQ(warm("5.9 kg")["temperature"], "150 degC");
    EXPECT_THAT(new_load_text(warm("5.9 kg"), models), HasSubstr("breast = \"72 degC\""));
}

// A fire in the open holds no temperature: none is asked for.
TEST(NewLoadQuestions, NoTemperatureIsAskedOfAFireInTheOpen) {
    const auto asked = [](const NewLoadAnswers& answers) {
        return question("temperature").asked_after(answers, models);
    };
    EXPECT_TRUE(asked({{"cooker", "kettle-57"}}));
    EXPECT_FALSE(asked({{"cooker", "open-pit"}}));
    EXPECT_FALSE(asked({{"cooker", "none"}}));
    NewLoadAnswers own = all_measured();
    EXPECT_TRUE(asked(own));
    own.erase("cooker-lid");  // without one nothing holds the heat
    EXPECT_FALSE(asked(own));
    const NewLoadAnswers over_coals =
        with_usual_answers({{"roast", "turkey"}, {"cooker", "open-pit"}, {"fuel", "wood"}}, models);
    EXPECT_EQ(over_coals.count("temperature"), 0U);
    EXPECT_EQ(over_coals.at("fuel"), "wood");
    EXPECT_THAT(new_load_text(over_coals, models), Not(HasSubstr("cooker_temperature")));
    EXPECT_THAT(new_load_text(over_coals, models), HasSubstr("[cook]\nfuel = \"wood\""))
        << "what burns is not lost";
}

TEST(NewLoadQuestions, APigIsAskedForItsLegsAndABirdForItsTrussing) {
    const auto asked = [](const char* id, const char* roast) {
        return question(id).asked_after({{"roast", roast}}, models);
    };
    EXPECT_TRUE(asked("legs", "suckling pig"));
    EXPECT_FALSE(asked("legs", "turkey"));
    EXPECT_FALSE(asked("legs", "rib roast"));
    EXPECT_FALSE(asked("trussing", "suckling pig"));
    EXPECT_TRUE(asked("trussing", "turkey"));
    EXPECT_EQ(question("trussing").words, (std::vector<std::string>{"tight", "legs tied", "loose"}));
    EXPECT_EQ(question("legs").words, (std::vector<std::string>{"folded", "stretched", "loose"}));
    EXPECT_THAT(new_load_text({{"roast", "suckling pig"}, {"mass", "7 kg"}, {"legs", "stretched"}}, models),
                HasSubstr("trussing = \"stretched\""));
}

TEST(NewLoadAnswer, NamesAreSpeltAsTheListsDo) {
    EXPECT_EQ(checked_answer(question("roast"), " Leg-of-Lamb ", models), "leg of lamb");
    EXPECT_EQ(checked_answer(question("rod"), "Square 8mm", models), "square-8mm");
    EXPECT_EQ(checked_answer(question("rod"), "OWN", models), "own");
    EXPECT_EQ(checked_answer(question("mass"), " 12 lb 8 oz ", models), "12 lb 8 oz");
}

TEST(NewLoadAnswer, ASlipIsToldWithWhatIsExpected) {
    EXPECT_THAT(refusal("roast", "turky"), HasSubstr("did you mean turkey?"));
    EXPECT_THAT(refusal("rod", "square-9mm"), HasSubstr("did you mean square-8mm?"));
    EXPECT_THAT(refusal("mass", "13"), HasSubstr("a number without a unit"));
    EXPECT_THAT(refusal("mass", "-3 kg"), HasSubstr("above zero"));
    EXPECT_THAT(refusal("mass", "13 in"), HasSubstr("a length"));
    EXPECT_THAT(refusal("rod-length", "760 m"), HasSubstr("5 m at most; check the number and its unit"));
    EXPECT_THAT(refusal("coals-below", "24 m"), HasSubstr("5 m at most"));
    EXPECT_THAT(refusal("rod-usable", "60 mm, 620 m"), HasSubstr("5 m at most"));
    EXPECT_THAT(refusal("motor-stall", "1.3 kg at 200 m"), HasSubstr("5 m at most"));
    EXPECT_THAT(refusal("rod-supports", "20 mm"), HasSubstr("with a comma between"));
    EXPECT_THAT(refusal("rod-supports", "660 mm, 20 mm"), HasSubstr("the smaller length first"));
    EXPECT_THAT(refusal("motor-stall", "1.3 kg"), HasSubstr("a torque"));
    EXPECT_THAT(refusal("motor-stall", "200 mm at 1.3 kg"), HasSubstr("a mass"));
    EXPECT_THAT(refusal("forks", "two"), HasSubstr("from 1 to 4"));
    EXPECT_THAT(refusal("forks", "9"), HasSubstr("from 1 to 4"));
    EXPECT_THAT(refusal("trussing", "lose"), HasSubstr("did you mean loose?"));
    EXPECT_THAT(refusal("serve", "  "), HasSubstr("18:30"));
}

TEST(NewLoadAnswer, ALeverOnAScaleIsATorque) {
    EXPECT_NEAR(answered_torque_n_m("1.3 kg at 200 mm"), 1.3 * 9.80665 * 0.2, 1e-12);
    EXPECT_NEAR(answered_torque_n_m("25 kgf cm"), 2.45166, 1e-5);
}

TEST(NewLoad, OfModelsReadsBack) {
    const NewLoadAnswers answers = turkey_on_models();
    const Assembly load = read_load_text(new_load_text(answers, models), "new.toml", models);
    EXPECT_EQ(load.title, "13 lb turkey");
    ASSERT_EQ(load.items.size(), 1U);
    EXPECT_NEAR(load.items[0].body->mass.amount, 13 * 0.45359237, 1e-9);
    EXPECT_TRUE(load.items[0].trussed);
    ASSERT_EQ(load.forks.size(), 2U);
    EXPECT_EQ(load.forks[0].points, Facing::point);
    EXPECT_EQ(load.forks[1].points, Facing::drive);
    EXPECT_FALSE(load.cooker.surfaces.empty());
    ASSERT_TRUE(load.cook);
    EXPECT_NEAR(*load.cook->cooker_temperature_k, (300 + 459.67) / 1.8, 1e-9);
}

TEST(NewLoad, OfMeasuresReadsBackToWhatWasMeasured) {
    const std::string text = new_load_text(all_measured(), models);
    const Assembly load = read_load_text(text, "new.toml", models);
    EXPECT_EQ(load.rod.section, Section::hexagon);
    EXPECT_NEAR(load.rod.width_m, 0.375 * 0.0254, 1e-12);
    EXPECT_EQ(load.rod.usable_m, (std::array<double, 2>{0.06, 0.6}));
    EXPECT_NEAR(load.motor.stall_torque_n_m, 1.3 * 9.80665 * 0.2, 0.005);
    EXPECT_NEAR(load.motor.rated_torque_n_m, 0.4 * load.motor.stall_torque_n_m, 0.005);
    EXPECT_THAT(text, HasSubstr("# measured: 1.3 kg at 200 mm"));
    ASSERT_EQ(load.cooker.surfaces.size(), 6U);
    const auto& coals = std::get<BoxShape>(load.cooker.surfaces[0].shape);
    EXPECT_TRUE(load.cooker.surfaces[0].fire);
    EXPECT_NEAR(coals.max.z(), -0.23, 1e-12);
    EXPECT_NEAR(coals.max.y() - coals.min.y(), 0.26, 1e-12);
    EXPECT_NEAR(coals.min.x(), 0.18, 1e-12);
    for (const CookerSurface& surface : load.cooker.surfaces) {
        if (const auto* wall = std::get_if<PlaneShape>(&surface.shape)) {
            // Every wall's free side looks to the middle of the coals' place on the rod.
            EXPECT_GT(wall->normal.dot(Vec3(0.33, 0, 0) - wall->point), 0) << surface.name;
        }
    }
    EXPECT_NEAR(std::get<PlaneShape>(load.cooker.surfaces[4].shape).point.y(), 8 * 0.0254, 1e-4);
    ASSERT_EQ(load.forks.size(), 2U);
    ASSERT_EQ(load.forks[0].tines.size(), 3U);
    EXPECT_NEAR(load.forks[0].tines[1].clock_rad, 2 * std::numbers::pi / 3, 1e-9);
    ASSERT_EQ(load.stock.size(), 1U);
    EXPECT_NEAR(load.stock[0].radius_max_m, 0.11, 1e-12);
    EXPECT_EQ(load.cook->serve_s, 18.5 * 3600);
}

TEST(NewLoad, TellsAtOnceOfAWeightThatNoSuchBirdHas) {
    const auto about = [](const char* id, const char* answer) {
        NewLoadAnswers answers{{"roast", "turkey"}, {"mass", "13 lb"}, {"trussing", "tight"}};
        answers[id] = answer;
        const auto complaint = complaint_about(question(id), answers, models);
        return complaint ? complaint->text() : "nothing";
    };
    EXPECT_THAT(about("mass", "1 lb"), HasSubstr("a turkey of 2.5 kg"));
    EXPECT_EQ(about("mass", "14 lb"), "nothing");
    EXPECT_THAT(about("tape-girth", "26 cm"), HasSubstr("26"));
    EXPECT_THAT(about("serve", "half past six"), "nothing");  // no cook without a cooker's heat
}

TEST(NewLoad, WhatARoughScanLiesOnIsAskedAndWrittenWhereItIsTold) {
    NewLoadAnswers answers = turkey_on_models();
    answers["roast"] = "bird.ply";
    EXPECT_THAT(new_load_text(with_usual_answers(answers, models), models),
                testing::Not(HasSubstr("rests_on")));
    answers["rests-on"] = "rack";
    EXPECT_THAT(new_load_text(with_usual_answers(answers, models), models), HasSubstr("rests_on = \"rack\""));
    answers["rough"] = "no";
    EXPECT_FALSE(with_usual_answers(answers, models).contains("rests-on")) << "a closed body lies on nothing";
    EXPECT_FALSE(turkey_on_models().contains("rests-on")) << "nor does one by weight";
    EXPECT_THAT(refusal("rests-on", "rak"), HasSubstr("did you mean rack?"));
}

TEST(NewLoad, LimbsThatAreMissingAreLeftOut) {
    EXPECT_EQ(checked_answer(question("missing"), "Left wing,right wing , left wing", models),
              "left wing, right wing");
    EXPECT_THAT(refusal("missing", "left fin"), HasSubstr("left wing"));
    NewLoadAnswers answers = turkey_on_models();
    answers["missing"] = "left wing, right wing";
    const std::string text = new_load_text(with_usual_answers(answers, models), models);
    EXPECT_THAT(text, HasSubstr("missing = [\"left wing\", \"right wing\"]"));
    const Assembly without = read_load_text(text, "new.toml", models);
    const Assembly whole = read_load_text(new_load_text(turkey_on_models(), models), "new.toml", models);
    // As heavy without its wings: the rest is larger.
    EXPECT_GT(without.items[0].body->bounds.sizes().x(), 1.01 * whole.items[0].body->bounds.sizes().x());
    EXPECT_NEAR(without.items[0].body->mass.amount, whole.items[0].body->mass.amount, 1e-6);
}

TEST(NewLoad, ComplaintsAreToldByTheQuestions) {
    NewLoadAnswers answers = turkey_on_models();
    answers["temperature"] = "3000 degF";
    try {
        read_load_text(new_load_text(answers, models), "new.toml", models);
        FAIL() << "no complaint";
    } catch (const InputError& error) {
        EXPECT_EQ(by_question(error, answers).complaints().front().key, "temperature");
    }
}

}  // namespace
}  // namespace evenspit
