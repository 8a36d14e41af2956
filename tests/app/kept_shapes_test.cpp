// SPDX-License-Identifier: MIT
#include "app/cli/kept_shapes.h"

#include <cstdlib>
#include <fstream>

#include <gtest/gtest.h>

#include "app/verb_runner.h"
#include "support/temporary_folder.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::TemporaryFolder;

// Programs that these tests start keep nothing in the home of whoever runs them.
const int kept_nowhere = ::setenv("EVENSPIT_CACHE", "none", 1);

test::Ending checked(const std::map<std::string, std::string>& variables) {
    test::World world = test::with_models();
    world.variables.insert(variables.begin(), variables.end());
    return test::run_in(world, {"check", EVENSPIT_SOURCE_DIR "/samples/roll-test/turkey.toml", "--mountings",
                                "0", "--json", "--quiet"});
}

std::ptrdiff_t kept_in(const fs::path& folder) {
    return fs::exists(folder) ? std::distance(fs::directory_iterator(folder), {}) : 0;
}

// The same words with and without, first and second, whole and broken.
TEST(KeptShapes, ChangeNoResult) {
    ASSERT_EQ(kept_nowhere, 0);
    const TemporaryFolder home;
    const std::string cache = (home / "cache").string();
    const test::Ending plain = checked({});
    ASSERT_LT(plain.status, 2) << plain.err;
    const auto expect_plain = [&](const std::map<std::string, std::string>& variables) {
        const test::Ending ending = checked(variables);
        EXPECT_EQ(ending.out, plain.out);
        EXPECT_EQ(ending.err, plain.err);
        EXPECT_EQ(ending.status, plain.status);
    };
    expect_plain({{"XDG_CACHE_HOME", cache}});
    const std::ptrdiff_t shapes = kept_in(home / "cache/evenspit");
    EXPECT_GT(shapes, 0);
    expect_plain({{"XDG_CACHE_HOME", cache}});
    EXPECT_EQ(kept_in(home / "cache/evenspit"), shapes);
    for (const auto& entry : fs::directory_iterator(home / "cache/evenspit")) {
        std::fstream file(entry.path(), std::ios::binary | std::ios::in | std::ios::out);
        file.seekp(static_cast<std::streamoff>(fs::file_size(entry.path()) / 2));
        file.put('!');
    }
    expect_plain({{"XDG_CACHE_HOME", cache}});
    // A home that takes nothing, and none.
    expect_plain({{"HOME", "/proc/none"}});
    expect_plain({{"XDG_CACHE_HOME", "relative"}});
    EXPECT_FALSE(fs::exists("relative"));
}

TEST(KeptShapes, StandWhereTheUserSays) {
    const TemporaryFolder home;
    const std::vector<std::string> words{"shape", "quail", "--mass", "200 g"};
    const auto made = [&](const std::map<std::string, std::string>& variables) {
        EXPECT_EQ(test::run_in({.variables = variables}, words).status, 0);
    };
    const std::string in_home = home.path().string();
    made({{"HOME", in_home}});
    EXPECT_EQ(kept_in(home / ".cache/evenspit"), 1);
    made({{"HOME", in_home}, {"XDG_CACHE_HOME", in_home + "/own"}});
    EXPECT_EQ(kept_in(home / "own/evenspit"), 1);
    made({{"HOME", in_home}, {"EVENSPIT_CACHE", in_home + "/named"}});
    EXPECT_EQ(kept_in(home / "named"), 1);
    made({{"HOME", in_home + "/other"}, {"EVENSPIT_CACHE", "none"}});
    EXPECT_FALSE(fs::exists(home / "other"));
}

}  // namespace
}  // namespace evenspit
