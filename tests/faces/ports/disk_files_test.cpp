#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "faces/ports/system.hpp"

namespace pappus::ports {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kOurs = "<!-- ours -->";

// A folder of its own for every test.
class DiskFilesWrite : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "pappus-XXXXXX").string();
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }

  [[nodiscard]] std::string path(const std::string& name) const { return (folder_ / name).string(); }
  void put(const std::string& name, const std::string& text) const { std::ofstream{path(name)} << text; }
  [[nodiscard]] std::string got(const std::string& name) const { return files_.read(path(name)).value_or("(none)"); }
  [[nodiscard]] std::size_t count() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator{folder_}, fs::directory_iterator{}));
  }

  DiskFiles files_;
  fs::path folder_;
};

TEST_F(DiskFilesWrite, WritesAFileThatWasNotThere) {
  ASSERT_TRUE(files_.write(path("sheet.html"), "<!-- ours -->new", kOurs));
  EXPECT_EQ(got("sheet.html"), "<!-- ours -->new");
  EXPECT_EQ(count(), 1u);  // nothing is left beside it
}

TEST_F(DiskFilesWrite, ReplacesItsOwnAndAnEmptyOne) {
  put("sheet.html", "<!-- ours -->old and longer");
  put("empty.html", "");
  ASSERT_TRUE(files_.write(path("sheet.html"), "<!-- ours -->new", kOurs));
  ASSERT_TRUE(files_.write(path("empty.html"), "<!-- ours -->new", kOurs));
  EXPECT_EQ(got("sheet.html"), "<!-- ours -->new");
  EXPECT_EQ(got("empty.html"), "<!-- ours -->new");
  EXPECT_EQ(count(), 2u);
}

TEST_F(DiskFilesWrite, LeavesAnothersFileAsItStands) {
  put("flight.toml", "balloon = \"b.toml\"\n");
  const auto written = files_.write(path("flight.toml"), "<!-- ours -->new", kOurs);
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().code, Errc::conflict);
  EXPECT_EQ(written.error().where.file, path("flight.toml"));
  EXPECT_EQ(got("flight.toml"), "balloon = \"b.toml\"\n");
  EXPECT_EQ(count(), 1u);
}

TEST_F(DiskFilesWrite, RefusesAFolderAPipeAndAPathThatLeadsNowhere) {
  const auto folder = files_.write(folder_.string(), "x", kOurs);
  ASSERT_FALSE(folder);
  EXPECT_EQ(folder.error().code, Errc::bad_input);
  const auto nowhere = files_.write(path("no/such/sheet.html"), "x", kOurs);
  ASSERT_FALSE(nowhere);
  EXPECT_EQ(nowhere.error().code, Errc::machine_failed);
  EXPECT_EQ(nowhere.error().where.file, path("no/such/sheet.html"));
  ASSERT_EQ(mkfifo(path("pipe").c_str(), 0600), 0);
  ASSERT_FALSE(files_.write(path("pipe"), "x", kOurs));  // and does not wait for a reader
}

TEST_F(DiskFilesWrite, WritesWhatALinkPointsTo) {
  put("real.html", "<!-- ours -->old");
  fs::create_symlink(path("real.html"), path("link.html"));
  ASSERT_TRUE(files_.write(path("link.html"), "<!-- ours -->new", kOurs));
  EXPECT_TRUE(fs::is_symlink(path("link.html")));
  EXPECT_EQ(got("real.html"), "<!-- ours -->new");
}

}  // namespace
}  // namespace pappus::ports
