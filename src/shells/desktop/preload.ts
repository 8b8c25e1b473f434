/**
 * The only thing of the desktop that the page can see. Runs before the page in a sandbox of its own; hands over three
 * functions and neither the runtime nor anything of Node.
 */
import { contextBridge, type IpcRendererEvent, ipcRenderer } from 'electron';
import { BRIDGE_NAME, CHANNELS, COMMANDS, type Command, type DesktopBridge } from '../../contract/commands.ts';

const isCommand = (word: unknown): word is Command => COMMANDS.includes(word as Command);

const bridge: DesktopBridge = {
  onCommand(onCommand) {
    const listen = (_event: IpcRendererEvent, word: unknown) => {
      if (isCommand(word)) onCommand(word);
    };
    ipcRenderer.on(CHANNELS.command, listen);
    return () => {
      ipcRenderer.removeListener(CHANNELS.command, listen);
    };
  },
  choosePhotographs: () => ipcRenderer.invoke(CHANNELS.choosePhotographs),
  chooseFolder: () => ipcRenderer.invoke(CHANNELS.chooseFolder),
};

contextBridge.exposeInMainWorld(BRIDGE_NAME, bridge);
