#include "faces/ports/system.hpp"

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>

namespace pappus::ports {
namespace {

constexpr std::size_t kLargest = 16u << 20;

tl::unexpected<Issue> failed(Errc code, std::string key, const std::string& path, std::string wanted = {}) {
  Issue issue;
  issue.code = code;
  issue.sentence = say(std::move(key));
  issue.where.file = path;
  issue.wanted = std::move(wanted);
  return tl::unexpected{std::move(issue)};
}

}  // namespace

Instant SystemClock::now() const {
  using std::chrono::milliseconds;
  const auto since_1970 = std::chrono::system_clock::now().time_since_epoch();
  return Instant::from_unix_milliseconds(std::chrono::duration_cast<milliseconds>(since_1970).count());
}

Result<std::string> DiskFiles::read(const std::string& path) const {
  std::error_code ignored;
  if (path != "-" && std::filesystem::is_directory(path, ignored))
    return failed(Errc::bad_input, "issue.file_is_folder", path);
  struct Close {
    void operator()(std::FILE* f) const {
      if (f != stdin) std::fclose(f);
    }
  };
  const std::unique_ptr<std::FILE, Close> file{path == "-" ? stdin : std::fopen(path.c_str(), "rb")};
  if (!file) {
    if (errno == ENOENT || errno == ENOTDIR) return failed(Errc::not_found, "issue.file_not_found", path);
    return failed(Errc::machine_failed, "issue.file_unreadable", path);
  }
  std::string text;
  char block[65536];
  while (const std::size_t n = std::fread(block, 1, sizeof block, file.get())) {
    text.append(block, n);
    if (text.size() > kLargest) return failed(Errc::bad_input, "issue.file_too_large", path, "16 MiB");
  }
  if (std::ferror(file.get()) != 0) return failed(Errc::machine_failed, "issue.file_unreadable", path);
  return text;
}

std::string DiskFiles::beside(const std::string& file, const std::string& relative) const {
  if (file == "-") return relative;
  return (std::filesystem::path{file}.parent_path() / relative).lexically_normal().string();
}

}  // namespace pappus::ports
