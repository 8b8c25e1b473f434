/**
 * Packages of the desktop for Linux, Windows and macOS: `npm run package`, on the system that the package is for,
 * because npm installs the decoder of photographs for that system only. Nothing is published and nothing updates
 * itself; whoever signs names the certificate in the environment, as electron-builder describes.
 */
import type { Configuration } from 'electron-builder';

const configuration: Configuration = {
  appId: 'example.twinplumb.desktop',
  copyright: 'MIT licence',
  directories: { buildResources: 'build', output: 'out/packages' },

  // The build and what it imports; packages of the list of dependencies are added with everything that they need.
  files: ['out/node/**', 'out/preload/**', 'out/interface/**', 'LICENSE', '!**/*.map'],
  asar: true,
  // The decoder and its library are loaded by the system, which cannot look into an archive. Programs, the worker's
  // too, and the vision library's WebAssembly are read by the runtime itself and stay inside.
  asarUnpack: ['node_modules/@img/**'],
  // Every native part comes ready made.
  npmRebuild: false,
  electronLanguages: ['en-US'],
  publish: null,

  electronFuses: {
    runAsNode: false,
    enableCookieEncryption: true,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    loadBrowserProcessSpecificV8Snapshot: false,
    grantFileProtocolExtraPrivileges: false,
  },

  linux: {
    target: ['AppImage', 'deb'],
    executableName: 'twinplumb-desktop',
    category: 'Graphics',
    icon: 'build/icons',
    synopsis: 'Converges the two pictures of stereo film projection',
    maintainer: 'Twinplumb <maintainer@twinplumb.example>',
    vendor: 'Twinplumb',
  },
  deb: { packageName: 'twinplumb-desktop' },
  win: { target: ['nsis'], icon: 'build/icons/icon.ico' },
  nsis: {
    oneClick: false,
    perMachine: false,
    allowToChangeInstallationDirectory: true,
    deleteAppDataOnUninstall: false,
  },
  mac: {
    target: ['dmg'],
    icon: 'build/icons/icon.icns',
    category: 'public.app-category.photography',
    hardenedRuntime: true,
    entitlements: 'build/entitlements.mac.plist',
    entitlementsInherit: 'build/entitlements.mac.plist',
    extendInfo: {
      NSCameraUsageDescription:
        'Twinplumb photographs the projected target through your camera. The pictures stay on this machine.',
    },
  },
};

export default configuration;
