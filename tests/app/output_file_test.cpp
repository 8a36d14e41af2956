// SPDX-License-Identifier: MIT
#include "app/cli/output_file.h"

#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

#include <gtest/gtest.h>

#include "support/temporary_folder.h"
#include "units/error.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::content_of;
using test::TemporaryFolder;

TEST(OutputFile, AppearsWithItsContentAndNothingElse) {
    const TemporaryFolder folder;
    write_output_file(folder / "result.json", "{}\n");
    EXPECT_EQ(content_of(folder / "result.json"), "{}\n");
    EXPECT_EQ(folder.entries(), 1u);
}

TEST(OutputFile, TakesTheUsualPermissions) {
    const TemporaryFolder folder;
    write_output_file(folder / "a", "x");
    std::ofstream(folder / "b") << "x";
    EXPECT_EQ(fs::status(folder / "a").permissions(), fs::status(folder / "b").permissions());
}

TEST(OutputFile, ReplacesAFileAndKeepsItsPermissions) {
    const TemporaryFolder folder;
    const fs::path file = folder.write("a", "a longer old content");
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    write_output_file(file, "new");
    EXPECT_EQ(content_of(file), "new");
    EXPECT_EQ(fs::status(file).permissions(),
              fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    EXPECT_EQ(folder.entries(), 1u);
}

TEST(OutputFile, WritesThroughALink) {
    const TemporaryFolder folder;
    folder.write("real", "old");
    fs::create_symlink("real", folder / "link");
    write_output_file(folder / "link", "new");
    EXPECT_TRUE(fs::is_symlink(folder / "link"));
    EXPECT_EQ(content_of(folder / "real"), "new");
}

TEST(OutputFile, RefusesPlacesThatTakeNoFile) {
    const TemporaryFolder folder;
    fs::create_directory(folder / "sub");
    EXPECT_THROW(write_output_file(folder / "sub", "x"), InputError);
    EXPECT_THROW(write_output_file(folder / "missing/result", "x"), InputError);
    EXPECT_EQ(folder.entries(), 1u);
    try {
        write_output_file(folder / "missing/result", "x");
        FAIL();
    } catch (const InputError& error) {
        EXPECT_EQ(error.what(),
                  (folder / "missing/result").string() +
                      ": found No such file or directory; expected a place where a file can be written; name "
                      "another file");
    }
}

TEST(OutputFile, RefusesAFolderThatIsLocked) {
    if (::geteuid() == 0) GTEST_SKIP() << "nothing is locked for the superuser";
    const TemporaryFolder folder;
    fs::create_directory(folder / "locked");
    fs::permissions(folder / "locked", fs::perms::owner_read | fs::perms::owner_exec);
    EXPECT_THROW(write_output_file(folder / "locked/result", "x"), InputError);
    fs::permissions(folder / "locked", fs::perms::owner_all);
}

TEST(OutputFile, AFullDeviceIsNoFaultOfTheName) {
    if (::access("/dev/full", W_OK) != 0) GTEST_SKIP() << "no /dev/full here";
    EXPECT_THROW(write_output_file("/dev/full", "x"), std::system_error);
    EXPECT_TRUE(fs::is_character_file("/dev/full")) << "a device must not be replaced by a file";
}

TEST(OutputFile, WritesToADeviceAsItIs) {
    write_output_file("/dev/null", "x");
    EXPECT_TRUE(fs::is_character_file("/dev/null"));
}

}  // namespace
}  // namespace evenspit
