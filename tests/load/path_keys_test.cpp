// SPDX-License-Identifier: MIT
#include "load/path_keys.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit {
namespace {

TEST(FilesOfLoad, AreTheLoadAndAllThatItNames) {
    const test::TemporaryFolder folder;
    for (const char* kind : {"models", "models/motors", "models/cookers", "models/rods", "models/materials"})
        std::filesystem::create_directory(folder / kind);
    folder.write("models/motors/slow.toml", "about = \"slow\"\n");
    folder.write("models/rods/thin.toml", "material = \"Stainless steel\"\n");
    folder.write("models/materials/stainless-steel.toml", "about = \"steel\"\n");
    folder.write("models/cookers/drum.toml", "[[surface]]\nfile = \"drum.obj\"\n");
    const std::filesystem::path load = folder.write("load.toml", R"(
[rod]
model = "thin"
[motor]
model = "slow"
[cooker]
model = "drum"
surface = [ { file = "lid.obj" }, { file = 3 } ]
[[item]]
scan = ["a.ply", "/all/b.ply"]
[[item]]
scan = "sub/c.ply"
file = "not a path key here"
[[fork]]
model = "unknown"
)");
    EXPECT_THAT(files_of_load(load, folder / "models"),
                testing::UnorderedElementsAre(
                    load, folder / "models/rods/thin.toml", folder / "models/materials/stainless-steel.toml",
                    folder / "models/motors/slow.toml", folder / "models/cookers/drum.toml",
                    folder / "models/cookers/drum.obj", folder / "lid.obj", folder / "a.ply", "/all/b.ply",
                    folder / "sub/c.ply"));
}

TEST(FilesOfLoad, PassesOverWhatCannotBeRead) {
    const test::TemporaryFolder folder;
    EXPECT_THAT(files_of_load(folder / "none.toml", folder.path()),
                testing::ElementsAre(folder / "none.toml"));
    const std::filesystem::path broken = folder.write("broken.toml", "[[");
    EXPECT_THAT(files_of_load(broken, folder.path()), testing::ElementsAre(broken));
}

}  // namespace
}  // namespace evenspit
