// SPDX-License-Identifier: MIT
#include "files/whole_file.h"

#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

#include <gmock/gmock.h>

#include "support/temporary_folder.h"
#include "units/error.h"

namespace evenspit {
namespace {

namespace fs = std::filesystem;
using test::content_of;
using test::TemporaryFolder;
using ::testing::HasSubstr;

std::string complaint(const fs::path& path) {
    try {
        read_whole_file(path);
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

TEST(WholeFile, ReadsEveryByte) {
    const TemporaryFolder folder;
    const std::string bytes("a\0b\r\n\xff", 6);
    EXPECT_EQ(read_whole_file(folder.write("a", bytes)), bytes);
    EXPECT_EQ(read_whole_file(folder.write("empty", "")), "");
}

TEST(WholeFile, TellsWhatItCannotRead) {
    const TemporaryFolder folder;
    EXPECT_THAT(complaint(folder / "none"), HasSubstr((folder / "none").string() + ": found no such file"));
    EXPECT_THAT(complaint(folder.path()), HasSubstr("found a folder; expected a file"));
    EXPECT_THAT(complaint("/dev/zero"), HasSubstr("neither a file nor a folder"));
}

TEST(WholeFile, WritesEveryByteAndNothingElse) {
    const TemporaryFolder folder;
    const std::string bytes("a\0b\r\n\xff", 6);
    write_whole_file(folder / "a", bytes);
    EXPECT_EQ(content_of(folder / "a"), bytes);
    write_whole_file(folder / "a", "shorter");
    EXPECT_EQ(content_of(folder / "a"), "shorter");
    EXPECT_EQ(folder.entries(), 1u);
}

TEST(WholeFile, TakesTheUsualPermissions) {
    const TemporaryFolder folder;
    write_whole_file(folder / "a", "x");
    std::ofstream(folder / "b") << "x";
    EXPECT_EQ(fs::status(folder / "a").permissions(), fs::status(folder / "b").permissions());
}

TEST(WholeFile, ReplacesAFileAndKeepsItsPermissions) {
    const TemporaryFolder folder;
    const fs::path file = folder.write("a", "a longer old content");
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    write_whole_file(file, "new");
    EXPECT_EQ(content_of(file), "new");
    EXPECT_EQ(fs::status(file).permissions(),
              fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    EXPECT_EQ(folder.entries(), 1u);
}

TEST(WholeFile, WritesThroughALink) {
    const TemporaryFolder folder;
    folder.write("real", "old");
    fs::create_symlink("real", folder / "link");
    write_whole_file(folder / "link", "new");
    EXPECT_TRUE(fs::is_symlink(folder / "link"));
    EXPECT_EQ(content_of(folder / "real"), "new");
}

TEST(WholeFile, RefusesPlacesThatTakeNoFile) {
    const TemporaryFolder folder;
    fs::create_directory(folder / "sub");
    EXPECT_THROW(write_whole_file(folder / "sub", "x"), InputError);
    EXPECT_THROW(write_whole_file(folder / "missing/result", "x"), InputError);
    const fs::path file = folder.write("file", "stays");
    EXPECT_THROW(write_whole_file(file / "below", "x"), InputError);
    EXPECT_EQ(content_of(file), "stays");
    EXPECT_EQ(folder.entries(), 2u);
    try {
        write_whole_file(folder / "missing/result", "x");
        FAIL();
    } catch (const InputError& error) {
        EXPECT_EQ(error.what(),
                  (folder / "missing/result").string() +
                      ": found No such file or directory; expected a place where a file can be written; name "
                      "another file");
    }
}

TEST(WholeFile, TellsUnwritablePlacesBeforehand) {
    const TemporaryFolder folder;
    fs::create_directory(folder / "sub");
    const fs::path file = folder.write("file", "stays");
    fs::create_symlink(file, folder / "link");
    for (const char* good : {"new", "file", "link", "sub/new"}) {
        EXPECT_NO_THROW(refuse_unwritable(folder / good)) << good;
    }
    EXPECT_NO_THROW(refuse_unwritable("/dev/null"));
    EXPECT_NO_THROW(refuse_unwritable("beside"));
    for (const char* bad : {"sub", "missing/new", "file/new"}) {
        EXPECT_THROW(refuse_unwritable(folder / bad), InputError) << bad;
    }
    EXPECT_EQ(content_of(file), "stays");
    EXPECT_EQ(folder.entries(), 3u);
}

TEST(WholeFile, RefusesAFolderThatIsLocked) {
    if (::geteuid() == 0) {
        // Little is locked for the superuser.
        EXPECT_THROW(write_whole_file("/proc/evenspit", "x"), InputError);
        return;
    }
    const TemporaryFolder folder;
    fs::create_directory(folder / "locked");
    fs::permissions(folder / "locked", fs::perms::owner_read | fs::perms::owner_exec);
    EXPECT_THROW(write_whole_file(folder / "locked/result", "x"), InputError);
    fs::permissions(folder / "locked", fs::perms::owner_all);
}

TEST(WholeFile, AFullDeviceIsNoFaultOfTheName) {
    if (::access("/dev/full", W_OK) != 0) GTEST_SKIP() << "no /dev/full here";
    EXPECT_THROW(write_whole_file("/dev/full", "x"), std::system_error);
    EXPECT_TRUE(fs::is_character_file("/dev/full")) << "a device must not be replaced by a file";
}

TEST(WholeFile, WritesToADeviceAsItIs) {
    write_whole_file("/dev/null", "x");
    EXPECT_TRUE(fs::is_character_file("/dev/null"));
}

TEST(WholeFile, PassesByADraftThatWasLeftBehind) {
    const TemporaryFolder folder;
    write_whole_file(folder / "a", "x");
    // What a run with this number was killed over, under whatever name: one by one in the way.
    for (int n = 0; n < 3; ++n)
        folder.write("." + std::to_string(::getpid()) + "-" + std::to_string(n) + ".part", "");
    folder.write(".b." + std::to_string(::getpid()) + ".part", "");
    write_whole_file(folder / "b", "new");
    EXPECT_EQ(content_of(folder / "b"), "new");
    EXPECT_EQ(folder.entries(), 6u) << "no draft of its own is left";
}

TEST(WholeFile, WritesUnderTheLongestNameThereIs) {
    const TemporaryFolder folder;
    const fs::path file = folder / std::string(255, 'n');
    write_whole_file(file, "x");
    EXPECT_EQ(content_of(file), "x");
}

TEST(WholeFiles, AllAreWritten) {
    const TemporaryFolder folder;
    folder.write("a", "older");
    write_whole_files({{folder / "a", "one"}, {folder / "b", "two"}, {"/dev/null", "three"}});
    EXPECT_EQ(content_of(folder / "a"), "one");
    EXPECT_EQ(content_of(folder / "b"), "two");
    EXPECT_EQ(folder.entries(), 2u);
    EXPECT_NO_THROW(write_whole_files({}));
}

TEST(WholeFiles, NoneIsWrittenWhereOneCannotBe) {
    const TemporaryFolder folder;
    folder.write("a", "older");
    EXPECT_THROW(
        write_whole_files({{folder / "a", "one"}, {folder / "b", "two"}, {folder / "none/c", "three"}}),
        InputError);
    // A device that is full shows only when it is written to.
    if (::access("/dev/full", W_OK) == 0) {
        EXPECT_THROW(
            write_whole_files({{folder / "a", "one"}, {folder / "b", "two"}, {"/dev/full", "three"}}),
            std::system_error);
    }
    EXPECT_EQ(content_of(folder / "a"), "older");
    EXPECT_EQ(folder.entries(), 1u) << "no draft is left";
}

}  // namespace
}  // namespace evenspit
