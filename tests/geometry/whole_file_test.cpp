// SPDX-License-Identifier: MIT
#include "geometry/whole_file.h"

#include <gmock/gmock.h>

#include "files.h"
#include "units/error.h"

namespace evenspit {
namespace {

using ::testing::HasSubstr;

class WholeFile : public test::FolderTest {
  protected:
    static std::string complaint(const std::filesystem::path& path) {
        try {
            read_whole_file(path);
        } catch (const InputError& error) {
            return error.what();
        }
        return "";
    }
};

TEST_F(WholeFile, ReadsEveryByte) {
    const std::string bytes("a\0b\r\n\xff", 6);
    EXPECT_EQ(read_whole_file(put("a", bytes)), bytes);
    EXPECT_EQ(read_whole_file(put("empty", "")), "");
}

TEST_F(WholeFile, TellsWhatItCannotRead) {
    EXPECT_THAT(complaint(folder / "none"), HasSubstr((folder / "none").string() + ": found no such file"));
    EXPECT_THAT(complaint(folder), HasSubstr("found a folder; expected a file"));
    EXPECT_THAT(complaint("/dev/zero"), HasSubstr("neither a file nor a folder"));
}

TEST_F(WholeFile, WritesEveryByteAndNothingElse) {
    const std::string bytes("a\0b\r\n\xff", 6);
    write_whole_file(folder / "a", bytes);
    EXPECT_EQ(get(folder / "a"), bytes);
    write_whole_file(folder / "a", "shorter");
    EXPECT_EQ(get(folder / "a"), "shorter");
    EXPECT_EQ(file_count(), 1u);
}

TEST_F(WholeFile, FailureLeavesEverythingAsItWas) {
    put("file", "stays");
    EXPECT_THROW(write_whole_file(folder / "file" / "below", "x"), InputError);
    EXPECT_THROW(write_whole_file(folder / "none" / "a", "x"), InputError);
    std::filesystem::create_directory(folder / "taken");
    EXPECT_THROW(write_whole_file(folder / "taken", "x"), InputError);
    EXPECT_EQ(get(folder / "file"), "stays");
    EXPECT_EQ(file_count(), 2u);
}

// A file that cannot be replaced: its folder takes no new files. Root may write anywhere.
TEST_F(WholeFile, FolderThatTakesNoFiles) {
    if (::geteuid() == 0) {
        EXPECT_THROW(write_whole_file("/proc/evenspit", "x"), InputError);
        return;
    }
    put("a", "stays");
    std::filesystem::permissions(folder,
                                 std::filesystem::perms::owner_read | std::filesystem::perms::owner_exec);
    EXPECT_THROW(write_whole_file(folder / "a", "x"), InputError);
    EXPECT_EQ(get(folder / "a"), "stays");
    std::filesystem::permissions(folder, std::filesystem::perms::owner_all);
}

}  // namespace
}  // namespace evenspit
