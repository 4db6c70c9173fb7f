//! probe
use evenrow_browser_tests::browser::Phone;
use evenrow_browser_tests::server::Site;
use thirtyfour::prelude::*;

#[tokio::test]
async fn probe() {
    for round in 0..8 {
        let site = Site::open();
        let phone = Phone::at("2026-07-01", "06:45").await;
        let granted = serde_json::json!({"origin": site.origin(),
            "permissions": ["notifications", "durableStorage", "clipboardReadWrite", "clipboardSanitizedWrite"]});
        if std::env::var("NOGRANT").is_err() { phone.command("Browser.grantPermissions", granted).await; }
        let d = phone.raw();
        d.goto(site.address()).await.unwrap();
        tokio::time::sleep(std::time::Duration::from_secs(2)).await;
        let started = phone.script("return document.documentElement.dataset.started ?? 'no'").await;
        println!("round {round} started {started}");
        if started == "no" {
            let port = site.origin().rsplit(':').next().unwrap().to_owned();
            let o = std::process::Command::new("sh").arg("-c").arg(format!("ss -tnpo | grep {port}; P=$(pgrep -f 'evenrow-host host' | head -1); for t in /proc/$P/task/*; do echo $(cat $t/comm) $(cat $t/syscall) $(cat $t/wchan); done")).output().unwrap();
            println!("SS {}", String::from_utf8_lossy(&o.stdout));
            let r = phone.script_with_answer("const [done]=arguments; const t=(n,p)=>Promise.race([p.then(v=>n+' ok '+v,e=>n+' err '+e),new Promise(r=>setTimeout(()=>r(n+' HANGS'),1500))]);
              (async()=>{ const out=[];
               out.push(await t('fetch words', fetch('words/en.txt').then(r=>r.text()).then(x=>x.length)));
               out.push(await t('persisted', navigator.storage.persisted()));
               out.push(await t('persist', navigator.storage.persist()));
               out.push(await t('open', new Promise((a,b)=>{const q=indexedDB.open('evenrow',1);q.onsuccess=()=>{q.result.close();a('opened')};q.onerror=()=>b(q.error);q.onblocked=()=>b('blocked')})));
               out.push(await t('open2', new Promise((a,b)=>{const q=indexedDB.open('other',1);q.onsuccess=()=>a('opened');q.onerror=()=>b(q.error)})));
               const l=[...document.querySelectorAll('link')].map(l=>l.href).find(h=>h.endsWith('.wasm')); out.push(l); if(l){out.push(await t('wasm', fetch(l).then(r=>r.arrayBuffer()).then(b=>b.byteLength))); out.push(await t('compile', WebAssembly.compileStreaming(fetch(l)).then(()=>1)));} out.push(await t('imp', import([...document.querySelectorAll('link')].map(l=>l.href).find(h=>h.endsWith('.js')&&h.includes('evenrow'))).then(m=>Object.keys(m).join()+ ' ' + typeof window.wasmBindings))); out.push('sw '+(navigator.serviceWorker.controller?.state));
               out.push(await t('regs', navigator.serviceWorker.getRegistrations().then(r=>r.length)));
               return out; })().then(done)").await;
            println!("{r}");
            let r = phone.script("return performance.getEntriesByType('resource').map(e=>[e.name,e.responseEnd,e.transferSize])").await;
            println!("{r}");
        }
    }
}
