// SPDX-License-Identifier: MIT
#include "app/cli/model_folder.h"

#include <map>
#include <sstream>

#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::TemporaryFolder;

fs::path found(const fs::path& program, const std::map<std::string, std::string>& variables = {}) {
    std::ostringstream out;
    std::ostringstream err;
    return model_folder(
        {.out = out, .err = err, .program = program, .variable = [&](const std::string& name) {
             const auto at = variables.find(name);
             return at == variables.end() ? std::nullopt : std::optional(at->second);
         }});
}

TEST(ModelFolder, TheEnvironmentComesFirst) {
    const TemporaryFolder prefix;
    fs::create_directories(prefix / "share/evenspit/models");
    EXPECT_EQ(found(prefix / "bin/evenspit", {{"EVENSPIT_MODELS", "/elsewhere"}}), "/elsewhere");
    EXPECT_EQ(found(prefix / "bin/evenspit", {{"EVENSPIT_MODELS", ""}}), prefix / "share/evenspit/models");
}

TEST(ModelFolder, AnInstalledPrefixIsSeenFromTheProgram) {
    const TemporaryFolder prefix;
    fs::create_directories(prefix / "share/evenspit/models");
    fs::create_directories(prefix / "bin/models");
    EXPECT_EQ(found(prefix / "bin/evenspit"), prefix / "share/evenspit/models");
}

TEST(ModelFolder, InABuildTreeItStandsBesideTheProgram) {
    const TemporaryFolder tree;
    fs::create_directories(tree / "build/release/models");
    EXPECT_EQ(found(tree / "build/release/evenspit"), tree / "build/release/models");
}

TEST(ModelFolder, WhereNothingIsTheInstalledPlaceIsNamed) {
    const TemporaryFolder prefix;
    EXPECT_EQ(found(prefix / "bin/evenspit"), prefix / "share/evenspit/models");
}

}  // namespace
}  // namespace evenspit
