// SPDX-License-Identifier: MIT
#include "load/models.h"

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
    EXPECT_EQ(kinds, (std::set<std::string>{"rod", "fork", "motor", "cooker", "material"}));
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
        const bool level = std::abs(std::sin(tine.clock_rad)) < 1e-9;
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
        EXPECT_THAT(error.what(), HasSubstr("a name from a folder 'cookers' of the models"));
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
