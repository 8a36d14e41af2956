// SPDX-License-Identifier: MIT
// What the fuzzer starts from, and what it ever found, goes through the same functions in every build.
#include <filesystem>

#include <gtest/gtest.h>

#include "support/temporary_folder.h"
#include "targets.h"

namespace evenspit::fuzz {
namespace {

class Corpus : public testing::TestWithParam<Target> {};

TEST_P(Corpus, RunsThrough) {
    const auto folder = std::filesystem::path(EVENSPIT_SOURCE_DIR) / "tests/fuzz/corpus" / GetParam().name;
    std::size_t files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        SCOPED_TRACE(entry.path());
        const std::string bytes = test::content_of(entry.path());
        EXPECT_NO_THROW(GetParam().run(bytes)) << "whole";
        EXPECT_NO_THROW(GetParam().run(std::string_view(bytes).substr(0, bytes.size() / 2))) << "half";
        ++files;
    }
    EXPECT_GE(files, 3u) << "seeds in " << folder;
}

INSTANTIATE_TEST_SUITE_P(Fuzz, Corpus, testing::ValuesIn(targets),
                         [](const auto& target) { return std::string(target.param.name); });

}  // namespace
}  // namespace evenspit::fuzz
