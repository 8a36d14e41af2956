// SPDX-License-Identifier: MIT
#include "load/models.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "load/load_fixture.h"
#include "units/error.h"

namespace evenspit {
namespace {

using test::models_folder;
using test::small_load;
using test::with;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class Models : public test::LoadTest {
  protected:
    // The keys of a section of the small load, from `first` to the next section.
    static std::string keys(const std::string& first, const std::string& next) {
        const std::size_t at = small_load.find(first);
        return small_load.substr(at, small_load.find(next, at) - at);
    }
};

TEST_F(Models, AreListedByKindAndName) {
    std::set<std::string> kinds;
    std::string last;
    for (const ModelEntry& entry : list_models(models_folder())) {
        EXPECT_FALSE(entry.summary.empty()) << entry.file;
        EXPECT_TRUE(std::filesystem::exists(entry.file)) << entry.file;
        EXPECT_EQ(entry.file.stem(), entry.name);
        if (!kinds.insert(entry.kind).second) {
            EXPECT_LT(last, entry.name);
        }
        last = entry.name;
    }
    EXPECT_EQ(kinds,
              (std::set<std::string>{"rod", "fork", "bracket", "basket", "motor", "cooker", "material"}));
}

TEST_F(Models, AllRead) {
    for (const ModelEntry& entry : list_models(models_folder())) {
        const std::string model = entry.kind == "material" ? "material = \"" + entry.name + "\"\n"
                                                           : "model = \"" + entry.name + "\"\n";
        std::string text = small_load;
        if (entry.kind == "rod") text = with(text, keys("section =", "[motor]"), model);
        if (entry.kind == "material") text = with(text, keys("youngs_modulus =", "[motor]"), model);
        if (entry.kind == "motor") text = with(text, keys("kind =", "[cooker]"), model);
        if (entry.kind == "cooker") text = with(text, keys("[[cooker.surface]]", "[[item]]"), model);
        if (entry.kind == "fork") text = with(text, keys("mass = \"160 g\"", "[[counterweight]]"), model);
        const std::vector<Complaint> told = complaints(text);
        EXPECT_THAT(told, IsEmpty()) << entry.file << ": " << (told.empty() ? "" : told.front().text());
    }
}

TEST_F(Models, ReadTogetherWithEveryUsualSection) {
    const Assembly assembly = read(R"toml(title = "Bird for the choir's picnic"

[rod]
section = "square"                 # square | round | hexagon
width = "8 mm"
length = "760 mm"
supports = ["20 mm", "660 mm"]
usable = ["60 mm", "620 mm"]
material = "stainless steel"

[motor]
kind = "dc"
rated_torque = "2.5 N m"
stall_torque = "5 N m"
speed = "3 rpm"
support_friction = 0.15

[cooker]
model = "ceramic-46"
[[cooker.surface]]
name = "coal bed"
shape = "box"
min = ["150 mm", "-150 mm", "-300 mm"]
max = ["530 mm", "150 mm", "-220 mm"]
fire = true
temperature = "700 degC"
keep = "50 mm"

[[item]]
name = "bird"
shape = "turkey"
mass = "4.6 kg"
trussed = true
cavity = "empty"
at = "340 mm"
facing = "point"
turn = "0 deg"
line = { from = ["0 mm", "0 mm"], to = ["0 mm", "0 mm"] }

[[fork]]
at = "190 mm"
points = "point"
mass = "160 g"
tine = [ { clock = "0 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" },
         { clock = "180 deg", radius = "32 mm", length = "95 mm", diameter = "5 mm" } ]

[[counterweight]]
at = "90 mm"
mass = "300 g"
radius = "70 mm"
clock = "210 deg"
diameter = "40 mm"

[stock]
counterweights = [ { mass = "300 g", radius = ["40 mm", "110 mm"], diameter = "40 mm" } ]

[cook]
cooker_temperature = "300 degF"
start_temperature = "40 degF"
pull = { breast = "162 degF", thigh = "172 degF" }
serve = "18:30"
convection_coefficient = "25 W/(m2 K)"
radiation = true
duration = "3 h"
)toml");
    EXPECT_THAT(assembly.remarks, IsEmpty());
    EXPECT_EQ(assembly.cooker.surfaces.size(), 3U);
    EXPECT_EQ(assembly.cook.value().pull_k.size(), 2U);
    EXPECT_NEAR(assembly.items[0].body->mass.amount, 4.6, 1e-9);
}

TEST_F(Models, NameTheirSource) {
    for (const ModelEntry& entry : list_models(models_folder())) {
        std::ifstream in(entry.file);
        const std::string text((std::istreambuf_iterator<char>(in)), {});
        EXPECT_THAT(text, HasSubstr("\nsource = \"")) << entry.file;
    }
}

TEST_F(Models, CrossedForkHasItsLongTinesAtZeroAndHalfATurn) {
    const Assembly assembly = read(
        with(small_load, keys("mass = \"160 g\"", "[[counterweight]]"), "model = \"two-long-two-short\"\n"));
    const auto& tines = assembly.forks[0].tines;
    ASSERT_EQ(tines.size(), 4U);
    for (const Tine& tine : tines) {
        const bool level = std::abs(std::sin(tine_clock(assembly.forks[0], tine))) < 1e-9;
        EXPECT_EQ(tine.length_m > 0.1, level);
    }
}

TEST_F(Models, AreFoundWithoutRegardToCaseAndGaps) {
    EXPECT_EQ(find_model(models_folder(), "material", "Stainless steel").filename(), "stainless-steel.toml");
    EXPECT_EQ(find_model(models_folder(), "rod", "square-8MM").filename(), "square-8mm.toml");
    EXPECT_TRUE(find_model(models_folder(), "rod", "").empty());
    EXPECT_TRUE(find_model(models_folder(), "rod", "../forks/two-tine").empty());
    EXPECT_TRUE(find_model(models_folder(), "spoon", "two-tine").empty());
}

TEST_F(Models, AreToldWhereTheFolderIsMissing) {
    try {
        list_models(folder_ / "none");
        FAIL();
    } catch (const InputError& error) {
        EXPECT_THAT(error.what(), HasSubstr("no such folder"));
    }
    EXPECT_THAT(model_names(folder_ / "none", "rod"), IsEmpty());
    try {
        [[maybe_unused]] const Assembly assembly =
            read(with(small_load, "[cooker]\n", "[cooker]\nmodel = \"x\"\n"), folder_ / "none");
        FAIL();
    } catch (const InputError& error) {
        EXPECT_THAT(error.what(), AllOf(HasSubstr("there are no models at"), HasSubstr("/none'"),
                                        HasSubstr("EVENSPIT_MODELS")));
    }
    try {
        const std::string two = with(with(small_load, "[cooker]\n", "[cooker]\nmodel = \"x\"\n"), "[motor]\n",
                                     "[motor]\nmodel = \"y\"\n");
        [[maybe_unused]] const Assembly assembly = read(two, folder_ / "none");
        FAIL();
    } catch (const InputError& error) {
        const auto of_models = [](const Complaint& complaint) {
            return complaint.found.find("there are no models") != std::string::npos;
        };
        EXPECT_EQ(std::count_if(error.complaints().begin(), error.complaints().end(), of_models), 1)
            << "one folder is missing, however many models are wanted";
    }
}

TEST_F(Models, AreToldWhereAFileIsBroken) {
    write("models/rods/a.toml", "about = \"a rod\"\n");
    write("models/rods/b.toml", "about = \n");
    write("models/rods/c.toml", "width = \"8 mm\"\n");
    write("models/rods/notes.txt", "not a model");
    EXPECT_THAT(model_names(folder_ / "models", "rod"), ElementsAre("a", "b", "c"));
    try {
        list_models(folder_ / "models");
        FAIL();
    } catch (const InputError& error) {
        ASSERT_EQ(error.complaints().size(), 2U) << error.what();
        EXPECT_THAT(error.what(), HasSubstr("b.toml:1:"));
        EXPECT_THAT(error.what(), HasSubstr("c.toml:1:1: about: found nothing"));
    }
}

TEST_F(Models, OfMaterialsMustRiseInTemperature) {
    write("models/materials/odd.toml",
          "about = \"odd\"\nyoungs_modulus = \"200 GPa\"\nyield_strength = \"190 MPa\"\ndensity = \"7900 "
          "kg/m3\"\n"
          "hot = [ { temperature = \"300 degC\", modulus = 0.9, strength = 0.9 },\n"
          "        { temperature = \"200 degC\", modulus = 0.8, strength = 0.8 } ]\n");
    try {
        [[maybe_unused]] const Assembly assembly =
            read(with(small_load, keys("youngs_modulus =", "[motor]"), "material = \"odd\"\n"),
                 folder_ / "models");
        FAIL();
    } catch (const InputError& error) {
        EXPECT_THAT(
            error.what(),
            HasSubstr("odd.toml:6:25: hot[2].temperature: found 200 °C; expected temperatures that rise"));
    }
}

}  // namespace
}  // namespace evenspit
